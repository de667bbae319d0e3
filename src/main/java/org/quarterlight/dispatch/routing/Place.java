package org.quarterlight.dispatch.routing;

/** A place on the earth, degrees (WGS 84). */
public record Place(double latitude, double longitude) {}
