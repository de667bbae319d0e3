package org.quarterlight;

import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** What whoever starts the service has to put right; told as its sentence, without a stack trace. */
final class CannotStart extends RuntimeException {
    private static final long serialVersionUID = 1;

    CannotStart(String message) {
        super(message);
    }

    static final class Told extends AbstractFailureAnalyzer<CannotStart> {
        @Override
        protected FailureAnalysis analyze(Throwable failure, CannotStart cause) {
            return new FailureAnalysis(String.valueOf(cause.getMessage()), null, cause);
        }
    }
}
