package org.quarterlight.damage.web;

import org.quarterlight.damage.DamageReporting;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

@RestController
class JudgingApi {
    private final DamageReporting reporting;

    JudgingApi(DamageReporting reporting) {
        this.reporting = reporting;
    }

    /** @param leftToJudge glasses that are still to be judged by the rules chosen last; 0 where all are */
    record JudgingView(long leftToJudge) {}

    /** How far the judging by newly chosen rules is. */
    @GetMapping("/api/v1/rule-sheets/judging")
    JudgingView judging() {
        return new JudgingView(reporting.leftToJudge());
    }
}
