/** Signing in and out, organisations, people, keys and partners, as pages and as JSON. */
@NullMarked
package org.quarterlight.account.web;

import org.jspecify.annotations.NullMarked;
