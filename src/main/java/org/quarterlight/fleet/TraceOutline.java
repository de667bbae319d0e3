package org.quarterlight.fleet;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.List;
import java.util.UUID;
import org.quarterlight.glass.KnownLength;
import org.quarterlight.glass.PicturePlace;
import org.quarterlight.glass.TracedFrom;
import org.quarterlight.glass.TracedOutline;

/** Corners as they were pointed at on a picture, to be turned into millimetres by two known lengths. */
public record TraceOutline(
        @NotNull UUID picture,
        @NotNull TracedFrom from,
        @NotNull KnownLength across,
        @NotNull KnownLength up,

        @NotNull @Size(min = 3, max = TracedOutline.MOST_CORNERS)
        List<@NotNull PicturePlace> corners) {}
