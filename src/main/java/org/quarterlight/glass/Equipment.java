package org.quarterlight.glass;

/** What is built into a windscreen or looks through it, and asks for care. */
public enum Equipment {
    CAMERA,
    HEATING,
    RAIN_SENSOR,
    HEAD_UP_DISPLAY,
    AIRBAG_SENSOR
}
