/** The keys, as everybody may read them and as the operator replaces them. */
@NullMarked
package org.quarterlight.proof.web;

import org.jspecify.annotations.NullMarked;
