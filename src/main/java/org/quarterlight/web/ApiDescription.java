package org.quarterlight.web;

import io.swagger.v3.core.converter.AnnotatedType;
import io.swagger.v3.core.converter.ModelConverter;
import io.swagger.v3.core.converter.ModelConverterContext;
import io.swagger.v3.core.util.Json;
import io.swagger.v3.oas.models.Components;
import io.swagger.v3.oas.models.OpenAPI;
import io.swagger.v3.oas.models.Operation;
import io.swagger.v3.oas.models.info.Info;
import io.swagger.v3.oas.models.info.License;
import io.swagger.v3.oas.models.media.ArraySchema;
import io.swagger.v3.oas.models.media.BooleanSchema;
import io.swagger.v3.oas.models.media.Content;
import io.swagger.v3.oas.models.media.IntegerSchema;
import io.swagger.v3.oas.models.media.MediaType;
import io.swagger.v3.oas.models.media.ObjectSchema;
import io.swagger.v3.oas.models.media.Schema;
import io.swagger.v3.oas.models.media.StringSchema;
import io.swagger.v3.oas.models.parameters.HeaderParameter;
import io.swagger.v3.oas.models.parameters.Parameter;
import io.swagger.v3.oas.models.parameters.QueryParameter;
import io.swagger.v3.oas.models.responses.ApiResponse;
import io.swagger.v3.oas.models.security.SecurityRequirement;
import io.swagger.v3.oas.models.security.SecurityScheme;
import io.swagger.v3.oas.models.servers.Server;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springdoc.core.customizers.OperationCustomizer;
import org.springdoc.core.utils.SpringDocUtils;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.servlet.mvc.method.annotation.SseEmitter;
import tools.jackson.databind.json.JsonMapper;

/** What the OpenAPI document says beside what the controllers tell of themselves. */
@Configuration(proxyBeanMethods = false)
class ApiDescription {
    static {
        SpringDocUtils.getConfig().addRequestWrapperToIgnore(IfMatch.class, SliceRequest.class);
        SpringDocUtils.getConfig().replaceWithSchema(Flag.class, new BooleanSchema());
        SpringDocUtils.getConfig().replaceWithSchema(SseEmitter.class, new StringSchema());
    }

    @Bean
    OpenAPI description() {
        return new OpenAPI()
                .info(new Info()
                        .title("Quarterlight")
                        .version("1")
                        .description("Windscreen damage in fleets: reported, judged, repaired and proved. Lengths are "
                                + "millimetres, times ISO 8601 with offset, money integer minor units with currency. "
                                + "Errors are problem details (RFC 9457). A verdict supports and does not replace the "
                                + "judgement of a competent person; local law decides.")
                        .license(new License().name("Apache-2.0")))
                .servers(List.of(new Server().url("/")))
                .components(new Components()
                        .addSchemas("ProblemDetail", problemDetail())
                        .addSecuritySchemes(
                                "token",
                                new SecurityScheme()
                                        .type(SecurityScheme.Type.HTTP)
                                        .scheme("bearer")))
                .addSecurityItem(new SecurityRequirement().addList("token"));
    }

    /** Words as they stand in JSON; by itself the description has the names of the constants. */
    @Bean
    ModelConverter wordsOfEnums(JsonMapper json) {
        return new ModelConverter() {
            @Override
            @SuppressWarnings({"unchecked", "rawtypes"})
            public @Nullable Schema resolve(
                    AnnotatedType type, ModelConverterContext context, Iterator<ModelConverter> chain) {
                var schema = chain.hasNext() ? chain.next().resolve(type, context, chain) : null;
                var raw = type.getType() == null
                        ? null
                        : Json.mapper().constructType(type.getType()).getRawClass();
                if (schema != null && raw != null && raw.isEnum() && schema.getEnum() != null) {
                    schema.setEnum(Arrays.stream(raw.getEnumConstants())
                            .map(constant -> json.convertValue(constant, String.class))
                            .toList());
                }
                if (raw != null && raw.isRecord()) {
                    requirePrimitives(raw, context.getDefinedModels().get(raw.getSimpleName()));
                }
                return schema;
            }
        };
    }

    /** A number or truth value that cannot be null can neither be left out. */
    @SuppressWarnings("rawtypes")
    private static void requirePrimitives(Class<?> type, @Nullable Schema model) {
        if (model == null || model.getProperties() == null) {
            return;
        }
        for (var component : type.getRecordComponents()) {
            var required = model.getRequired();
            if (component.getType().isPrimitive()
                    && model.getProperties().containsKey(component.getName())
                    && (required == null || !required.contains(component.getName()))) {
                model.addRequiredItem(component.getName());
            }
        }
    }

    /** The parameters and answers that every handler has by naming a type of ours. */
    @Bean
    OperationCustomizer commonParts() {
        return (operation, handler) -> {
            var types = Arrays.stream(handler.getMethodParameters())
                    .map(parameter -> parameter.getParameterType())
                    .toList();
            if (types.contains(IfMatch.class)) {
                add(
                        operation,
                        new HeaderParameter()
                                .name("If-Match")
                                .required(true)
                                .description("The ETag of what is changed")
                                .schema(new StringSchema()));
                operation.getResponses().addApiResponse("412", problem("Changed by somebody else since"));
                operation.getResponses().addApiResponse("428", problem("If-Match is missing"));
            }
            if (types.contains(SliceRequest.class)) {
                add(
                        operation,
                        new QueryParameter()
                                .name("limit")
                                .schema(new IntegerSchema()
                                        .minimum(BigDecimal.ONE)
                                        .maximum(BigDecimal.valueOf(SliceRequest.MOST))
                                        ._default(SliceRequest.USUAL)));
                add(
                        operation,
                        new QueryParameter()
                                .name("after")
                                .description("The cursor in the last answer's next")
                                .schema(new StringSchema()));
            }
            if (handler.hasMethodAnnotation(PostMapping.class)) {
                add(
                        operation,
                        new HeaderParameter()
                                .name(Idempotency.HEADER)
                                .description("The same key and body within 24 hours get the same answer")
                                .schema(new StringSchema().maxLength(200)));
            }
            var body = operation.getRequestBody() != null;
            if (body) {
                operation.getResponses().addApiResponse("400", problem("The body is not what it says it is"));
                operation.getResponses().addApiResponse("415", problem("A body of another content type"));
            }
            if (body || types.contains(SliceRequest.class)) {
                operation
                        .getResponses()
                        .addApiResponse("422", problem("Well-formed but wrong; errors name the fields"));
            }
            if (handler.hasMethodAnnotation(PostMapping.class)
                    || handler.hasMethodAnnotation(PutMapping.class)
                    || handler.hasMethodAnnotation(DeleteMapping.class)
                    || handler.hasMethodAnnotation(PatchMapping.class)) {
                operation.getResponses().addApiResponse("409", problem("The state of things refuses it"));
            }
            operation.getResponses().addApiResponse("401", problem("Not signed in"));
            operation.getResponses().addApiResponse("403", problem("The role does not allow it"));
            if (Arrays.stream(handler.getMethodParameters())
                    .anyMatch(parameter -> parameter.hasParameterAnnotation(
                            org.springframework.web.bind.annotation.PathVariable.class))) {
                operation.getResponses().addApiResponse("404", problem("Absent, or another organisation's"));
            }
            return operation;
        };
    }

    /** Several handlers of one path and verb are one operation. */
    private static void add(Operation operation, Parameter parameter) {
        var present = operation.getParameters();
        if (present == null
                || present.stream().noneMatch(each -> Objects.equals(each.getName(), parameter.getName()))) {
            operation.addParametersItem(parameter);
        }
    }

    private static ApiResponse problem(String description) {
        return new ApiResponse()
                .description(description)
                .content(new Content()
                        .addMediaType(
                                org.springframework.http.MediaType.APPLICATION_PROBLEM_JSON_VALUE,
                                new MediaType().schema(new Schema<>().$ref("#/components/schemas/ProblemDetail"))));
    }

    private static Schema<?> problemDetail() {
        return new ObjectSchema()
                .description("Problem details (RFC 9457)")
                .addProperty("type", new StringSchema().format("uri-reference"))
                .addProperty("title", new StringSchema())
                .addProperty("status", new IntegerSchema())
                .addProperty("detail", new StringSchema())
                .addProperty("instance", new StringSchema().format("uri-reference"))
                .addProperty(
                        "errors",
                        new ArraySchema()
                                .items(new ObjectSchema()
                                        .addProperty("field", new StringSchema())
                                        .addProperty("message", new StringSchema())));
    }
}
