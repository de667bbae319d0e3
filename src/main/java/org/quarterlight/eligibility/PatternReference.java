package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonCreator;
import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.annotation.JsonProperty;
import org.jspecify.annotations.Nullable;

/** A glass pattern as a verdict remembers it; generic where nobody has drawn the vehicle's own glass yet. */
public record PatternReference(
        String id,
        int version,
        @JsonInclude(JsonInclude.Include.NON_DEFAULT) boolean generic) {
    @JsonCreator
    static PatternReference read(
            @JsonProperty("id") String id,
            @JsonProperty("version") int version,
            @JsonProperty("generic") @Nullable Boolean generic) {
        return new PatternReference(id, version, Boolean.TRUE.equals(generic));
    }
}
