package org.quarterlight.glass;

/** A place on a picture, in its points from the upper left corner: y grows downwards. */
public record PicturePlace(double xPx, double yPx) {}
