package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpStatus;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.web.ErrorResponse;
import org.springframework.web.HttpMediaTypeNotAcceptableException;
import org.springframework.web.HttpMediaTypeNotSupportedException;
import org.springframework.web.HttpRequestMethodNotSupportedException;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.multipart.MultipartException;
import org.springframework.web.servlet.resource.NoResourceFoundException;

/** Requests to the API that no handler takes, so that no advice of the handlers hears of them. */
@ControllerAdvice
@Order(Ordered.LOWEST_PRECEDENCE)
class ApiStrays {
    /** Files that are too large or broken off are noticed before a handler is looked for, at pages too. */
    @ExceptionHandler
    Object broken(MultipartException e, HttpServletRequest request) {
        var tooLarge = e instanceof MaxUploadSizeExceededException;
        var status = tooLarge ? HttpStatus.CONTENT_TOO_LARGE : HttpStatus.BAD_REQUEST;
        var sentence = tooLarge ? "The file is larger than we take" : "The files did not arrive whole";
        return request.getRequestURI().startsWith("/api/")
                ? ResponseEntity.status(status)
                        .body(ProblemWriter.problem(status, tooLarge ? "too-large" : "malformed", sentence))
                : ErrorPages.page(status, sentence);
    }

    @ExceptionHandler({
        HttpMediaTypeNotSupportedException.class,
        HttpMediaTypeNotAcceptableException.class,
        HttpRequestMethodNotSupportedException.class,
        NoResourceFoundException.class
    })
    ResponseEntity<ProblemDetail> stray(Exception e, HttpServletRequest request) throws Exception {
        if (!(e instanceof ErrorResponse answer) || !request.getRequestURI().startsWith("/api/")) {
            throw e; // a page's
        }
        var status = HttpStatus.valueOf(answer.getStatusCode().value());
        var problem = switch (status) {
            case NOT_FOUND -> ProblemWriter.problem(status, "not-found", "There is nothing at this address");
            case METHOD_NOT_ALLOWED ->
                ProblemWriter.problem(status, "verb", request.getMethod() + " is not for this address");
            case NOT_ACCEPTABLE -> ProblemWriter.problem(status, "accept", "There is no answer of the type asked for");
            default -> ProblemWriter.problem(status, "content-type", "This address takes no body of this type");
        };
        return ResponseEntity.status(status).headers(answer.getHeaders()).body(problem);
    }
}
