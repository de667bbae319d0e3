package org.quarterlight.inspection.web;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;

/** A known damage on the form with what was ticked and typed of it. Its methods are public, for templates ask them. */
record AnswerLine(DamageView damage, InspectionForm.Line typed, boolean justReported) {
    public boolean says(String answer) {
        return typed.answer != null && typed.answer.word().equals(answer);
    }

    public boolean goneAs(String word) {
        return typed.goneAs != null && typed.goneAs.word().equals(word);
    }

    public boolean found(String word) {
        return typed.found != null && typed.found.word().equals(word);
    }

    public boolean layers(String word) {
        return typed.layers != null && typed.layers.word().equals(word);
    }

    public boolean source(String word) {
        return typed.source != null && typed.source.word().equals(word);
    }

    /** What changed was told just now with a drawing. */
    public boolean drawnAnew() {
        return typed.drawnAnew;
    }

    /** A finished repair, of which there is only to tell that it has failed. */
    public boolean repaired() {
        return damage.state() == DamageState.CLOSED;
    }

    /** A job is about it, and says itself when it is gone. */
    public boolean inHand() {
        return damage.state() == DamageState.IN_HAND;
    }

    public String diameter() {
        return text(typed.diameterMm);
    }

    public String pit() {
        return text(typed.pitMm);
    }

    public String leg() {
        return text(typed.longestLegMm);
    }

    public String reason() {
        return Objects.requireNonNullElse(typed.reason, "");
    }

    private static String text(java.math.@Nullable BigDecimal length) {
        return length == null ? "" : length.toPlainString();
    }
}
