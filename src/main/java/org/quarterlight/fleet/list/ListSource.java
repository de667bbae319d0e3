package org.quarterlight.fleet.list;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;

/** The bytes of a list, to be opened several times: a list is looked over once before its rows are read. */
@FunctionalInterface
public interface ListSource {
    InputStream open() throws IOException;

    static ListSource of(Path file) {
        return () -> Files.newInputStream(file);
    }

    /** The array is not copied. */
    static ListSource of(byte[] bytes) {
        return () -> new ByteArrayInputStream(bytes);
    }
}
