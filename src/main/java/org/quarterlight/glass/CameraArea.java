package org.quarterlight.glass;

/** What a driver-assistance camera looks through: a rectangle hanging from the upper edge. */
public record CameraArea(double centreXMm, double widthMm, double heightMm) {}
