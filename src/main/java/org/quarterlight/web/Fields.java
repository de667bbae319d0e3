package org.quarterlight.web;

import java.beans.PropertyEditor;
import java.beans.PropertyEditorSupport;
import java.math.BigDecimal;
import java.util.List;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.PropertyEditorRegistry;
import org.springframework.beans.SimpleTypeConverter;
import org.springframework.boot.webmvc.autoconfigure.WebMvcRegistrations;
import org.springframework.stereotype.Component;
import org.springframework.validation.AbstractPropertyBindingResult;
import org.springframework.web.bind.ServletRequestDataBinder;
import org.springframework.web.context.request.NativeWebRequest;
import org.springframework.web.method.support.InvocableHandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.ExtendedServletRequestDataBinder;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerAdapter;
import org.springframework.web.servlet.mvc.method.annotation.ServletRequestDataBinderFactory;

/**
 * The fields of forms. Numbers are read by {@link Typed} alone: the framework asks its own editors again where a converter
 * has refused, and they take 1e-99999999. {@link FormWords} says what cannot be read.
 */
@Component
class Fields implements WebMvcRegistrations {
    @Override
    public RequestMappingHandlerAdapter getRequestMappingHandlerAdapter() {
        return new RequestMappingHandlerAdapter() {
            @Override
            protected ServletRequestDataBinderFactory createDataBinderFactory(List<InvocableHandlerMethod> methods) {
                return new ServletRequestDataBinderFactory(methods, getWebBindingInitializer()) {
                    @Override
                    protected ServletRequestDataBinder createBinderInstance(
                            @Nullable Object target, String name, NativeWebRequest request) {
                        return new Binder(target, name);
                    }
                };
            }
        };
    }

    private static final class Binder extends ExtendedServletRequestDataBinder {
        Binder(@Nullable Object target, String name) {
            super(target, name);
        }

        @Override
        protected AbstractPropertyBindingResult createBeanPropertyBindingResult() {
            return reading(super.createBeanPropertyBindingResult());
        }

        @Override
        protected AbstractPropertyBindingResult createDirectFieldBindingResult() {
            return reading(super.createDirectFieldBindingResult());
        }

        @Override
        protected SimpleTypeConverter getSimpleTypeConverter() {
            var converter = super.getSimpleTypeConverter();
            read(converter);
            return converter;
        }

        private static AbstractPropertyBindingResult reading(AbstractPropertyBindingResult result) {
            var registry = result.getPropertyEditorRegistry();
            // There is none where there is nothing to bind to, as for a body that was left out.
            if (registry != null) {
                read(registry);
            }
            return result;
        }

        private static void read(PropertyEditorRegistry registry) {
            registry.registerCustomEditor(BigDecimal.class, editor(Typed::number));
            registry.registerCustomEditor(
                    Double.class, editor(text -> Typed.number(text).doubleValue()));
            registry.registerCustomEditor(
                    double.class, editor(text -> Typed.number(text).doubleValue()));
            registry.registerCustomEditor(Integer.class, editor(Typed::wholeNumber));
            registry.registerCustomEditor(int.class, editor(Typed::wholeNumber));
        }

        private static PropertyEditor editor(Function<String, Object> read) {
            return new PropertyEditorSupport() {
                @Override
                public void setAsText(String text) {
                    setValue(text.isBlank() ? null : read.apply(text));
                }

                @Override
                public String getAsText() {
                    return getValue() instanceof BigDecimal number
                            ? number.toPlainString()
                            : getValue() == null ? "" : getValue().toString();
                }
            };
        }
    }
}
