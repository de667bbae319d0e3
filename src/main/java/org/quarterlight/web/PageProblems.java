package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.ConstraintViolation;
import jakarta.validation.ConstraintViolationException;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Busy;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.NotFound;
import org.quarterlight.kernel.Refused;
import org.quarterlight.kernel.Stale;
import org.quarterlight.web.RefusedForm.Problem;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.InvalidPropertyException;
import org.springframework.core.annotation.Order;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.dao.PessimisticLockingFailureException;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.ErrorResponse;
import org.springframework.web.bind.MissingServletRequestParameterException;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.multipart.MultipartException;
import org.springframework.web.servlet.FlashMap;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.resource.NoResourceFoundException;
import org.springframework.web.servlet.support.RequestContextUtils;

/** What went wrong, for people: a refusal leads back to the page they came from, anything else to a page that says why. */
@ControllerAdvice(annotations = Controller.class)
@Order(1)
class PageProblems {
    private static final Logger LOG = LoggerFactory.getLogger(PageProblems.class);

    private final ShownAgain again;

    PageProblems(ShownAgain again) {
        this.again = again;
    }

    @ExceptionHandler
    ModelAndView notFound(NotFound e) {
        return page(HttpStatus.NOT_FOUND, String.valueOf(e.getMessage()));
    }

    @ExceptionHandler
    ModelAndView noPage(NoResourceFoundException e) {
        return page(HttpStatus.NOT_FOUND, "There is no page at this address.");
    }

    @ExceptionHandler
    ModelAndView refused(Refused e, HttpServletRequest request, HttpServletResponse response) {
        return back(String.valueOf(e.getMessage()), HttpStatus.CONFLICT, request, response);
    }

    @ExceptionHandler
    ModelAndView invalid(Invalid e, HttpServletRequest request, HttpServletResponse response) {
        return back(List.of(Problem.of(e.field(), e.problem())), HttpStatus.UNPROCESSABLE_CONTENT, request, response);
    }

    /** A command that breaks its own rules, made of a form that has no object to tell it beside its fields. */
    @ExceptionHandler
    ModelAndView invalid(ConstraintViolationException e, HttpServletRequest request, HttpServletResponse response) {
        var problems = e.getConstraintViolations().stream()
                .map(PageProblems::problem)
                .sorted(Comparator.comparing(problem -> String.valueOf(problem.field())))
                .toList();
        return back(problems, HttpStatus.UNPROCESSABLE_CONTENT, request, response);
    }

    /** What a bound says of a field, for whoever reads it beside that field's name and unit. */
    private static Problem problem(ConstraintViolation<?> violation) {
        var path = violation.getPropertyPath().toString();
        var field = path.substring(path.lastIndexOf('.') + 1);
        var rule = violation.getConstraintDescriptor();
        var bounds = rule.getAttributes();
        return switch (rule.getAnnotation().annotationType().getSimpleName()) {
            case "DecimalMax", "Max" ->
                new Problem(field, "At most " + RefusedForm.bound(bounds.getOrDefault("value", "")), true);
            case "DecimalMin", "Min" ->
                new Problem(
                        field,
                        (Boolean.FALSE.equals(bounds.get("inclusive")) ? "More than " : "At least ")
                                + RefusedForm.bound(bounds.getOrDefault("value", "")),
                        true);
            case "Digits" -> Problem.of(field, digits(bounds.get("integer"), bounds.get("fraction")));
            case "Size" -> Problem.of(field, "At most " + bounds.get("max") + " characters");
            case "NotNull", "NotBlank" -> Problem.of(field, "Fill this in");
            default -> Problem.of(field, violation.getMessage());
        };
    }

    private static String digits(@Nullable Object before, @Nullable Object after) {
        return "At most " + before + " digits"
                + (Integer.valueOf(0).equals(after)
                        ? ", and no decimals"
                        : " before the point and " + after + " after it");
    }

    /** Broken off, or not what a form with files is. */
    @ExceptionHandler
    ModelAndView noFiles(MultipartException e, HttpServletRequest request, HttpServletResponse response) {
        return back("The files did not arrive whole.", HttpStatus.UNPROCESSABLE_CONTENT, request, response);
    }

    @ExceptionHandler
    ModelAndView stale(Stale e, HttpServletRequest request, HttpServletResponse response) {
        return back(e.getMessage() + ". Look at it again.", HttpStatus.CONFLICT, request, response);
    }

    @ExceptionHandler
    ModelAndView changedMeanwhile(
            OptimisticLockingFailureException e, HttpServletRequest request, HttpServletResponse response) {
        return back(
                "Somebody else changed this at the same moment. Look at it again.",
                HttpStatus.CONFLICT,
                request,
                response);
    }

    /** Two changes waited for each other, or one for too long: the one that gave way may simply come again. */
    @ExceptionHandler
    ModelAndView busy(PessimisticLockingFailureException e, HttpServletResponse response) {
        response.setHeader(HttpHeaders.RETRY_AFTER, "1");
        return page(HttpStatus.CONFLICT, "Somebody changed this at the same moment. Try again.");
    }

    @ExceptionHandler
    ModelAndView busy(Busy e, HttpServletResponse response) {
        response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(e.patience().toSeconds()));
        return page(HttpStatus.SERVICE_UNAVAILABLE, String.valueOf(e.getMessage()));
    }

    /** A field that no form of ours has, such as one below an id. */
    @ExceptionHandler
    ModelAndView strangeField(InvalidPropertyException e) {
        return page(HttpStatus.BAD_REQUEST, "This request holds a field that the form does not have.");
    }

    @ExceptionHandler
    ModelAndView tooLarge(MaxUploadSizeExceededException e, HttpServletRequest request, HttpServletResponse response) {
        return back("The file is larger than we take.", HttpStatus.CONTENT_TOO_LARGE, request, response);
    }

    @ExceptionHandler
    ModelAndView mistyped(
            MethodArgumentTypeMismatchException e, HttpServletRequest request, HttpServletResponse response) {
        var expected = ApiProblems.expected(e.getRequiredType());
        if (!HttpMethod.GET.matches(request.getMethod()) && request.getParameter(e.getName()) != null) {
            var shown = again.page(
                    HttpStatus.UNPROCESSABLE_CONTENT,
                    List.of(Problem.of(e.getName(), FormWords.expected(e.getRequiredType()))),
                    request,
                    response);
            return shown != null
                    ? shown
                    : back(
                            inWords(e.getName()) + " " + expected + ".",
                            HttpStatus.UNPROCESSABLE_CONTENT,
                            request,
                            response);
        }
        return e.getRequiredType() == UUID.class
                ? page(HttpStatus.NOT_FOUND, "There is no page at this address.")
                : page(
                        HttpStatus.UNPROCESSABLE_CONTENT,
                        "In the address, " + inWords(e.getName()).toLowerCase(Locale.ROOT) + " " + expected + ".");
    }

    /** {@code resinLot} is "Resin lot". */
    private static String inWords(String name) {
        var words = name.replaceAll("([A-Z])", " $1").toLowerCase(Locale.ROOT).trim();
        return words.isEmpty() ? name : words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }

    @ExceptionHandler
    ModelAndView missing(
            MissingServletRequestParameterException e, HttpServletRequest request, HttpServletResponse response) {
        var shown = again.page(
                HttpStatus.UNPROCESSABLE_CONTENT,
                List.of(Problem.of(e.getParameterName(), "Fill this in")),
                request,
                response);
        if (shown != null) {
            return shown;
        }
        return page(HttpStatus.UNPROCESSABLE_CONTENT, inWords(e.getParameterName()) + " is missing.");
    }

    /** A bug: the person gets a number to quote, the log gets the rest. */
    @ExceptionHandler
    ModelAndView unexpected(Exception e) throws Exception {
        if (e instanceof org.springframework.security.access.AccessDeniedException
                || e instanceof org.springframework.security.core.AuthenticationException) {
            throw e; // answered by the security chain
        }
        if (e instanceof ErrorResponse response && response.getStatusCode().is4xxClientError()) {
            return page(
                    HttpStatus.valueOf(response.getStatusCode().value()),
                    "This request cannot be answered as it came.");
        }
        var id = UUID.randomUUID();
        LOG.error("Unexpected failure {}", id, e);
        return page(HttpStatus.INTERNAL_SERVER_ERROR, "").addObject("requestId", id);
    }

    private static ModelAndView page(HttpStatus status, String sentence) {
        var page = new ModelAndView("error", status);
        page.addObject("status", status.value());
        page.addObject("message", sentence);
        return page;
    }

    private ModelAndView back(
            String sentence, HttpStatus otherwise, HttpServletRequest request, HttpServletResponse response) {
        return back(List.of(Problem.of(null, sentence)), otherwise, request, response);
    }

    /** A form's refusal is told on the page that the form stood on, if that page is ours. */
    private ModelAndView back(
            List<Problem> problems, HttpStatus otherwise, HttpServletRequest request, HttpServletResponse response) {
        var shown = again.page(otherwise, problems, request, response);
        if (shown != null) {
            return shown;
        }
        var sentence = problems.stream()
                .map(problem -> problem.inUnit()
                        ? inWords(String.valueOf(problem.field())) + ": " + problem.sentence()
                        : problem.sentence())
                .collect(Collectors.joining(". "));
        var from = OwnPage.before(request);
        if (HttpMethod.GET.matches(request.getMethod()) || from == null || request.getHeader("HX-Request") != null) {
            return page(otherwise, sentence);
        }
        request.setAttribute(Idempotency.REFUSED, true);
        var flash = new FlashMap();
        flash.put("notice", Notice.failed(sentence));
        var manager = RequestContextUtils.getFlashMapManager(request);
        if (manager != null) {
            manager.saveOutputFlashMap(flash, request, response);
        }
        return new ModelAndView("redirect:" + from);
    }
}
