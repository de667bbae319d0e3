package org.quarterlight.history;

import java.util.UUID;

/**
 * Where the chain of an organisation's history ends, or ended once.
 *
 * @param number of its last line; zero where nothing has been done yet
 * @param hash of its last line, SHA-256 in hexadecimal, which covers all lines before
 */
public record ChainHead(UUID organisation, long number, String hash) {}
