package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.springframework.boot.jackson.autoconfigure.JsonMapperBuilderCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.MethodParameter;
import org.springframework.core.convert.converter.Converter;
import org.springframework.core.convert.converter.ConverterFactory;
import org.springframework.format.FormatterRegistry;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.validation.Errors;
import org.springframework.web.bind.support.WebDataBinderFactory;
import org.springframework.web.context.request.NativeWebRequest;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.method.support.HandlerMethodArgumentResolver;
import org.springframework.web.method.support.ModelAndViewContainer;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.databind.DeserializationContext;
import tools.jackson.databind.MapperFeature;
import tools.jackson.databind.deser.jdk.StringDeserializer;
import tools.jackson.databind.module.SimpleModule;

/** Words, versions and parts of lists: how they stand in requests and answers. */
@Configuration(proxyBeanMethods = false)
class WebConfiguration implements WebMvcConfigurer {
    private static final Pattern ETAG = Pattern.compile("\"(\\d{1,9})\"");

    /** Words of the domain are lower case with hyphens in JSON, as in addresses. */
    @Bean
    JsonMapperBuilderCustomizer words() {
        var texts = new SimpleModule("texts").addDeserializer(String.class, new Texts());
        Typed.addTo(texts);
        return builder -> builder.enumNamingStrategy((config, type, name) -> Words.of(name))
                .enable(MapperFeature.ACCEPT_CASE_INSENSITIVE_ENUMS)
                .addModule(texts);
    }

    /** Whatever is kept must also be drawn: PostgreSQL refuses U+0000, and a record on paper the other controls. */
    private static final class Texts extends StringDeserializer {
        @Override
        public String deserialize(JsonParser parser, DeserializationContext context) throws JacksonException {
            var text = super.deserialize(parser, context);
            if (text != null && !PlainText.is(text)) {
                throw context.weirdStringException(text, String.class, "holds a character that is none");
            }
            return text;
        }
    }

    @Override
    public void addFormatters(FormatterRegistry registry) {
        Typed.addTo(registry);
        registry.addConverterFactory(new WordToEnum());
        registry.addConverter(new EnumToWord());
        registry.addConverter(new Text());
        registry.addConverter(String.class, Flag.class, Flag::read);
    }

    @Override
    public void addArgumentResolvers(List<HandlerMethodArgumentResolver> resolvers) {
        resolvers.add(new IfMatchArgument());
        resolvers.add(new SliceArgument());
        resolvers.add(new DoneAtArgument());
    }

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(new HandlerInterceptor() {
            @Override
            public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler) {
                DoneAt.forget();
                if (handler instanceof HandlerMethod method && method.hasMethodAnnotation(HoldsSecret.class)) {
                    request.setAttribute(Idempotency.SECRET, true);
                    response.setHeader(HttpHeaders.CACHE_CONTROL, "no-store");
                }
                return true;
            }

            @Override
            public void afterCompletion(
                    HttpServletRequest request,
                    HttpServletResponse response,
                    Object handler,
                    @Nullable Exception failure) {
                DoneAt.forget();
            }
        });
        registry.addInterceptor(new FormsThatFailed());
    }

    /** A form that is shown again for what is wrong with it is no success, whoever sent it: programs and proxies too. */
    private static final class FormsThatFailed implements HandlerInterceptor {
        @Override
        public void postHandle(
                HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable ModelAndView page) {
            if (page != null
                    && "POST".equals(request.getMethod())
                    && response.getStatus() == HttpStatus.OK.value()
                    && page.getStatus() == null
                    && !String.valueOf(page.getViewName()).startsWith("redirect:")
                    && page.getModel().values().stream()
                            .anyMatch(value -> value instanceof Errors errors && errors.hasErrors())) {
                response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            }
        }
    }

    /** {@code under-way} in a parameter is {@code UNDER_WAY}. */
    @SuppressWarnings({"rawtypes", "unchecked"})
    private static final class WordToEnum implements ConverterFactory<String, Enum> {
        @Override
        public <T extends Enum> Converter<String, T> getConverter(Class<T> type) {
            return new Converter<>() {
                @Override
                @SuppressWarnings("NullAway") // an empty field of a form is no word, and so no constant
                public @Nullable T convert(String word) {
                    return word.isBlank() ? null : (T) Words.read(type, word);
                }
            };
        }
    }

    /** What a form or an address says; see {@link Texts}. */
    private static final class Text implements Converter<String, String> {
        @Override
        public String convert(String typed) {
            if (!PlainText.is(typed)) {
                throw new IllegalArgumentException("holds a character that is none");
            }
            return typed;
        }
    }

    @SuppressWarnings("rawtypes")
    private static final class EnumToWord implements Converter<Enum, String> {
        @Override
        public String convert(Enum value) {
            return Words.of(value);
        }
    }

    private static final class IfMatchArgument implements HandlerMethodArgumentResolver {
        @Override
        public boolean supportsParameter(MethodParameter parameter) {
            return parameter.getParameterType() == IfMatch.class;
        }

        @Override
        public @Nullable Object resolveArgument(
                MethodParameter parameter,
                @Nullable ModelAndViewContainer container,
                NativeWebRequest request,
                @Nullable WebDataBinderFactory binders) {
            var header = request.getHeader(HttpHeaders.IF_MATCH);
            if (header == null && parameter.isOptional()) {
                return null;
            }
            if (header == null) {
                throw new VersionMissing();
            }
            var matcher = ETAG.matcher(header.trim());
            // Anything else cannot be a version that we gave out, so it cannot be the present one.
            return new IfMatch(matcher.matches() ? Integer.parseInt(matcher.group(1)) : -1);
        }
    }

    private static final class DoneAtArgument implements HandlerMethodArgumentResolver {
        @Override
        public boolean supportsParameter(MethodParameter parameter) {
            return parameter.getParameterType() == DoneAt.class;
        }

        @Override
        public Object resolveArgument(
                MethodParameter parameter,
                @Nullable ModelAndViewContainer container,
                NativeWebRequest request,
                @Nullable WebDataBinderFactory binders) {
            return DoneAt.read(
                            request.getHeader(DoneAt.TIME),
                            request.getHeader(DoneAt.AHEAD),
                            request.getHeader(DoneAt.CHANGED),
                            Objects.requireNonNull(request.getNativeRequest(HttpServletRequest.class))
                                    .getRequestURI())
                    .bound();
        }
    }

    private static final class SliceArgument implements HandlerMethodArgumentResolver {
        @Override
        public boolean supportsParameter(MethodParameter parameter) {
            return parameter.getParameterType() == SliceRequest.class;
        }

        @Override
        public Object resolveArgument(
                MethodParameter parameter,
                @Nullable ModelAndViewContainer container,
                NativeWebRequest request,
                @Nullable WebDataBinderFactory binders) {
            var after = request.getParameter("after");
            return new SliceRequest(
                    limit(request.getParameter("limit")), after == null || after.isBlank() ? null : after);
        }

        private static int limit(@Nullable String asked) {
            if (asked == null || asked.isBlank()) {
                return SliceRequest.USUAL;
            }
            try {
                var limit = Integer.parseInt(Objects.requireNonNull(asked).trim());
                if (limit >= 1 && limit <= SliceRequest.MOST) {
                    return limit;
                }
            } catch (NumberFormatException e) {
                // the same answer as for a number out of range
            }
            throw new Invalid("limit", "Ask for 1 to " + SliceRequest.MOST);
        }
    }
}
