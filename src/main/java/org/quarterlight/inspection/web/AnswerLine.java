package org.quarterlight.inspection.web;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;

/** A known damage on the form with what was ticked and typed of it. */
record AnswerLine(DamageView damage, InspectionForm.Line typed, boolean justReported) {
    boolean says(String answer) {
        return typed.answer != null && typed.answer.word().equals(answer);
    }

    boolean goneAs(String word) {
        return typed.goneAs != null && typed.goneAs.word().equals(word);
    }

    boolean found(String word) {
        return typed.found != null && typed.found.word().equals(word);
    }

    boolean layers(String word) {
        return typed.layers != null && typed.layers.word().equals(word);
    }

    boolean source(String word) {
        return typed.source != null && typed.source.word().equals(word);
    }

    /** A job is about it, and says itself when it is gone. */
    boolean inHand() {
        return damage.state() == DamageState.IN_HAND;
    }

    String diameter() {
        return text(typed.diameterMm);
    }

    String pit() {
        return text(typed.pitMm);
    }

    String leg() {
        return text(typed.longestLegMm);
    }

    String reason() {
        return Objects.requireNonNullElse(typed.reason, "");
    }

    private static String text(java.math.@Nullable BigDecimal length) {
        return length == null ? "" : length.toPlainString();
    }
}
