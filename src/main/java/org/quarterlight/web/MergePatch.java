package org.quarterlight.web;

import jakarta.validation.ConstraintViolationException;
import jakarta.validation.Validator;
import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpInputMessage;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.stereotype.Component;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.JsonNodeFactory;
import tools.jackson.databind.node.ObjectNode;

/**
 * A change as RFC 7396 has it: a member that is absent stays as it is, one that is null is cleared, any other is set. The
 * merged whole is checked like a command that came complete.
 */
@Component
public class MergePatch {
    private final JsonMapper json;
    private final Validator validator;

    MergePatch(JsonMapper json, Validator validator) {
        this.json = json;
        this.validator = validator;
    }

    /** What the command would be with this change; refused as a body of the wrong kind would be. */
    public <T> T apply(T present, ObjectNode change, Class<T> type) {
        var merged = merged(json.valueToTree(present), change);
        T command;
        try {
            command = json.treeToValue(merged, type);
        } catch (JacksonException e) {
            throw new HttpMessageNotReadableException("The change cannot be read", e, new Text(change.toString()));
        }
        var violations = validator.validate(command);
        if (!violations.isEmpty()) {
            throw new ConstraintViolationException(violations);
        }
        return command;
    }

    /** The document with this change, checked by nobody yet. */
    public static JsonNode merged(JsonNode present, JsonNode change) {
        if (!(change instanceof ObjectNode members)) {
            return change;
        }
        var whole = present instanceof ObjectNode object ? object.deepCopy() : JsonNodeFactory.instance.objectNode();
        members.properties().forEach(member -> {
            if (member.getValue().isNull()) {
                whole.remove(member.getKey());
            } else {
                whole.set(member.getKey(), merged(whole.path(member.getKey()), member.getValue()));
            }
        });
        return whole;
    }

    private record Text(String text) implements HttpInputMessage {
        @Override
        public InputStream getBody() {
            return new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
        }

        @Override
        public HttpHeaders getHeaders() {
            return new HttpHeaders();
        }
    }
}
