package org.quarterlight.web;

import io.swagger.v3.oas.models.Components;
import io.swagger.v3.oas.models.OpenAPI;
import io.swagger.v3.oas.models.info.Info;
import io.swagger.v3.oas.models.info.License;
import io.swagger.v3.oas.models.media.IntegerSchema;
import io.swagger.v3.oas.models.media.StringSchema;
import io.swagger.v3.oas.models.parameters.HeaderParameter;
import io.swagger.v3.oas.models.parameters.QueryParameter;
import io.swagger.v3.oas.models.responses.ApiResponse;
import io.swagger.v3.oas.models.security.SecurityRequirement;
import io.swagger.v3.oas.models.security.SecurityScheme;
import io.swagger.v3.oas.models.servers.Server;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import org.springdoc.core.customizers.OperationCustomizer;
import org.springdoc.core.utils.SpringDocUtils;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.web.bind.annotation.PostMapping;

/** What the OpenAPI document says beside what the controllers tell of themselves. */
@Configuration(proxyBeanMethods = false)
class ApiDescription {
    static {
        SpringDocUtils.getConfig().addRequestWrapperToIgnore(IfMatch.class, SliceRequest.class);
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
                        .addSecuritySchemes(
                                "token",
                                new SecurityScheme()
                                        .type(SecurityScheme.Type.HTTP)
                                        .scheme("bearer")))
                .addSecurityItem(new SecurityRequirement().addList("token"));
    }

    /** The parameters and answers that every handler has by naming a type of ours. */
    @Bean
    OperationCustomizer commonParts() {
        return (operation, handler) -> {
            var types = Arrays.stream(handler.getMethodParameters())
                    .map(parameter -> parameter.getParameterType())
                    .toList();
            if (types.contains(IfMatch.class)) {
                operation.addParametersItem(new HeaderParameter()
                        .name("If-Match")
                        .required(true)
                        .description("The ETag of what is changed")
                        .schema(new StringSchema()));
                operation.getResponses().addApiResponse("412", problem("Changed by somebody else since"));
                operation.getResponses().addApiResponse("428", problem("If-Match is missing"));
            }
            if (types.contains(SliceRequest.class)) {
                operation.addParametersItem(new QueryParameter()
                        .name("limit")
                        .schema(new IntegerSchema()
                                .minimum(BigDecimal.ONE)
                                .maximum(BigDecimal.valueOf(SliceRequest.MOST))
                                ._default(SliceRequest.USUAL)));
                operation.addParametersItem(new QueryParameter()
                        .name("after")
                        .description("The cursor in the last answer's next")
                        .schema(new StringSchema()));
            }
            if (handler.hasMethodAnnotation(PostMapping.class)) {
                operation.addParametersItem(new HeaderParameter()
                        .name(Idempotency.HEADER)
                        .description("The same key and body within 24 hours get the same answer")
                        .schema(new StringSchema().maxLength(200)));
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

    private static ApiResponse problem(String description) {
        return new ApiResponse().description(description);
    }
}
