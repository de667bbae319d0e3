package org.quarterlight.fleet.list;

import org.quarterlight.kernel.Refused;

/** The list as a whole cannot be read; the message is for the person who sent it. A bad row alone never does this. */
public final class ListRefused extends Refused {
    private final Reason reason;

    ListRefused(Reason reason, String message) {
        super(reason.code, message);
        this.reason = reason;
    }

    public Reason reason() {
        return reason;
    }

    /** Why a list is refused. */
    public enum Reason {
        EMPTY("list-empty"),
        NOT_TEXT("list-not-text"),
        TOO_LARGE("list-too-large"),
        TOO_MANY_ROWS("list-too-many-rows"),
        ROW_TOO_LONG("list-row-too-long"),
        QUOTE_NOT_CLOSED("list-quote-not-closed"),
        NO_HEADINGS("list-no-headings"),
        NO_REGISTRATION("list-no-registration"),
        HEADING_TWICE("list-heading-twice");

        private final String code;

        Reason(String code) {
            this.code = code;
        }
    }
}
