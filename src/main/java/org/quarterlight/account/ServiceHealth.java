package org.quarterlight.account;

/**
 * How the service is doing, without a word about anybody's data.
 *
 * @param database what the database calls itself
 * @param waiting announcements that not every listener has heard yet
 * @param failed those of them that a listener failed at
 */
public record ServiceHealth(String database, long waiting, long failed) {}
