package org.quarterlight.web;

import jakarta.validation.ConstraintViolationException;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;
import org.apache.tomcat.util.http.InvalidParameterException;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Busy;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.InvalidText;
import org.quarterlight.kernel.NotFound;
import org.quarterlight.kernel.Refused;
import org.quarterlight.kernel.Stale;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.core.annotation.Order;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.dao.PessimisticLockingFailureException;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.validation.FieldError;
import org.springframework.web.bind.MethodArgumentNotValidException;
import org.springframework.web.bind.MissingServletRequestParameterException;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.bind.annotation.RestControllerAdvice;
import org.springframework.web.context.request.WebRequest;
import org.springframework.web.method.annotation.HandlerMethodValidationException;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.servlet.mvc.method.annotation.ResponseEntityExceptionHandler;
import tools.jackson.databind.DatabindException;
import tools.jackson.databind.exc.InvalidFormatException;

/**
 * What went wrong, for programs: one mapping for all modules, because the types say enough. Asked before the pages'
 * advice, for a {@code @RestController} is a {@code @Controller} too.
 */
@RestControllerAdvice(annotations = RestController.class)
@Order(0)
class ApiProblems extends ResponseEntityExceptionHandler {
    private static final Logger LOG = LoggerFactory.getLogger(ApiProblems.class);

    /** One field and what is wrong with it. */
    record FieldProblem(String field, String message) {}

    @ExceptionHandler
    ProblemDetail notFound(NotFound e) {
        return ProblemWriter.problem(HttpStatus.NOT_FOUND, "not-found", String.valueOf(e.getMessage()));
    }

    @ExceptionHandler
    ProblemDetail refused(Refused e) {
        return ProblemWriter.problem(HttpStatus.CONFLICT, e.code(), String.valueOf(e.getMessage()));
    }

    @ExceptionHandler
    ProblemDetail stale(Stale e) {
        return ProblemWriter.problem(HttpStatus.PRECONDITION_FAILED, "stale", String.valueOf(e.getMessage()));
    }

    @ExceptionHandler
    ProblemDetail changedMeanwhile(OptimisticLockingFailureException e) {
        return ProblemWriter.problem(
                HttpStatus.PRECONDITION_FAILED, "stale", "It was changed by somebody else at the same moment");
    }

    /** Two changes waited for each other, or one for too long: the one that gave way may simply come again. */
    @ExceptionHandler
    ResponseEntity<ProblemDetail> busy(PessimisticLockingFailureException e) {
        return ResponseEntity.status(HttpStatus.CONFLICT)
                .header(HttpHeaders.RETRY_AFTER, "1")
                .body(ProblemWriter.problem(
                        HttpStatus.CONFLICT, "busy", "Somebody changed this at the same moment. Try again."));
    }

    @ExceptionHandler
    ResponseEntity<ProblemDetail> busy(Busy e) {
        return ResponseEntity.status(HttpStatus.SERVICE_UNAVAILABLE)
                .header(HttpHeaders.RETRY_AFTER, Long.toString(e.patience().toSeconds()))
                .body(ProblemWriter.problem(HttpStatus.SERVICE_UNAVAILABLE, "busy", String.valueOf(e.getMessage())));
    }

    @ExceptionHandler
    ProblemDetail versionMissing(VersionMissing e) {
        return ProblemWriter.problem(
                HttpStatus.PRECONDITION_REQUIRED, "version-missing", String.valueOf(e.getMessage()));
    }

    @ExceptionHandler
    ProblemDetail invalid(Invalid e) {
        return invalid(List.of(new FieldProblem(e.field(), e.problem())));
    }

    /** Several mistakes of a text, each with its line besides. */
    @ExceptionHandler
    ProblemDetail invalid(InvalidText e) {
        var problem =
                ProblemWriter.problem(HttpStatus.UNPROCESSABLE_CONTENT, "invalid", String.valueOf(e.getMessage()));
        problem.setProperty("errors", e.mistakes());
        return problem;
    }

    @ExceptionHandler
    ProblemDetail invalid(ConstraintViolationException e) {
        return invalid(e.getConstraintViolations().stream()
                .map(violation -> new FieldProblem(violation.getPropertyPath().toString(), violation.getMessage()))
                .toList());
    }

    /** An id that is none names nothing that is there. */
    @ExceptionHandler
    ProblemDetail mistyped(MethodArgumentTypeMismatchException e) {
        if (e.getRequiredType() == UUID.class) {
            return ProblemWriter.problem(HttpStatus.NOT_FOUND, "not-found", "There is nothing with this id");
        }
        return invalid(List.of(new FieldProblem(e.getName(), expected(e.getRequiredType()))));
    }

    /** Letters of the address that are in no alphabet, or a sign that ends in the middle. */
    @ExceptionHandler
    ProblemDetail unreadable(InvalidParameterException e) {
        return ProblemWriter.problem(HttpStatus.BAD_REQUEST, "malformed", "The address holds what is no text");
    }

    /** A bug: the caller gets a number to quote, the log gets the rest. */
    @ExceptionHandler
    ProblemDetail unexpected(Exception e) throws Exception {
        if (e instanceof org.springframework.security.access.AccessDeniedException
                || e instanceof org.springframework.security.core.AuthenticationException) {
            throw e; // answered by the security chain
        }
        var id = UUID.randomUUID();
        LOG.error("Unexpected failure {}", id, e);
        return ProblemWriter.problem(
                HttpStatus.INTERNAL_SERVER_ERROR, "unexpected", "Something failed on our side. Quote " + id + ".");
    }

    @Override
    protected @Nullable ResponseEntity<Object> handleMethodArgumentNotValid(
            MethodArgumentNotValidException e, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        return answer(
                invalid(e.getBindingResult().getAllErrors().stream()
                        .map(error -> new FieldProblem(
                                error instanceof FieldError field ? field.getField() : error.getObjectName(),
                                String.valueOf(error.getDefaultMessage())))
                        .toList()),
                headers);
    }

    @Override
    protected @Nullable ResponseEntity<Object> handleHandlerMethodValidationException(
            HandlerMethodValidationException e, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        return answer(
                invalid(e.getParameterValidationResults().stream()
                        .flatMap(result -> result.getResolvableErrors().stream()
                                .map(error -> new FieldProblem(
                                        error instanceof FieldError field
                                                ? field.getField()
                                                : String.valueOf(result.getMethodParameter()
                                                        .getParameterName()),
                                        String.valueOf(error.getDefaultMessage()))))
                        .toList()),
                headers);
    }

    @Override
    protected @Nullable ResponseEntity<Object> handleMissingServletRequestParameter(
            MissingServletRequestParameterException e, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        return answer(invalid(List.of(new FieldProblem(e.getParameterName(), "is missing"))), headers);
    }

    /** JSON that cannot be read is 400; JSON that can, with a value of the wrong kind, is 422 with its field. */
    @Override
    protected @Nullable ResponseEntity<Object> handleHttpMessageNotReadable(
            HttpMessageNotReadableException e, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        if (e.getCause() instanceof DatabindException mismatch
                && !mismatch.getPath().isEmpty()) {
            var field = mismatch.getPath().stream()
                    .map(step -> step.getPropertyName() == null ? "[" + step.getIndex() + "]" : step.getPropertyName())
                    .collect(Collectors.joining("."))
                    .replace(".[", "[");
            var expected = mismatch instanceof InvalidFormatException format ? expected(format.getTargetType()) : null;
            if (mismatch instanceof InvalidFormatException format && format.getValue() instanceof BigDecimal) {
                expected = "is a number of more digits than can be worked with";
            }
            return answer(
                    invalid(List.of(new FieldProblem(field, expected == null ? "is not of the right kind" : expected))),
                    headers);
        }
        return answer(
                ProblemWriter.problem(HttpStatus.BAD_REQUEST, "malformed", "The body is missing or is not JSON"),
                headers);
    }

    @Override
    protected @Nullable ResponseEntity<Object> handleMaxUploadSizeExceededException(
            MaxUploadSizeExceededException e, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        return answer(
                ProblemWriter.problem(HttpStatus.CONTENT_TOO_LARGE, "too-large", "The file is larger than we take"),
                headers);
    }

    private static ProblemDetail invalid(List<FieldProblem> errors) {
        var first = errors.isEmpty()
                ? ""
                : errors.getFirst().field() + ": " + errors.getFirst().message();
        var problem = ProblemWriter.problem(HttpStatus.UNPROCESSABLE_CONTENT, "invalid", first);
        problem.setProperty("errors", errors);
        return problem;
    }

    static String expected(@Nullable Class<?> type) {
        if (type == null) {
            return "is not of the right kind";
        }
        if (type.isEnum()) {
            return "is not one of "
                    + Arrays.stream(type.getEnumConstants())
                            .map(constant -> Words.of((Enum<?>) constant))
                            .collect(Collectors.joining(", "));
        }
        return switch (type.getSimpleName()) {
            case "UUID" -> "is not an id";
            case "String" -> "holds a character that is none";
            default -> Objects.requireNonNullElse(Typed.expected(type), "is not of the right kind");
        };
    }

    private static ResponseEntity<Object> answer(ProblemDetail problem, HttpHeaders headers) {
        return ResponseEntity.status(problem.getStatus()).headers(headers).body(problem);
    }
}
