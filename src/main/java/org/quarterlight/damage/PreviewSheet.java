package org.quarterlight.damage;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/**
 * Tries a sheet on the fleet's open damages.
 *
 * @param replaces the sheet in whose place it stands, or none, to stand beside the others. Left out: its own earlier version or what it was copied from, else
 *     none
 */
public record PreviewSheet(@Size(max = 80) @Nullable String replaces) {}
