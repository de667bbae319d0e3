package org.quarterlight.tenancy;

import java.util.Optional;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * The organisation that the present thread acts for. It is bound at the edges only (a request, an event, a scheduled job)
 * and always before a transaction begins, because the transaction tells the database once, at its start.
 */
public final class Tenants {
    private static final ThreadLocal<@Nullable TenantId> CURRENT = new ThreadLocal<>();

    private Tenants() {}

    /** The organisation bound to this thread. */
    public static Optional<TenantId> current() {
        return Optional.ofNullable(CURRENT.get());
    }

    /** The organisation bound to this thread; its absence is a bug of the caller. */
    public static TenantId require() {
        return current().orElseThrow(() -> new IllegalStateException("no organisation is bound to this thread"));
    }

    /** Does the work as this organisation, then as whoever was bound before. */
    public static <T extends @Nullable Object> T callAs(TenantId tenant, Supplier<T> work) {
        if (TransactionSynchronizationManager.isActualTransactionActive()) {
            throw new IllegalStateException("a transaction has begun already, as "
                    + current().map(TenantId::toString).orElse("nobody"));
        }
        return callWithin(tenant, work);
    }

    /** For {@link Founding}, which tells the database besides. */
    static <T extends @Nullable Object> T callWithin(TenantId tenant, Supplier<T> work) {
        var before = CURRENT.get();
        CURRENT.set(tenant);
        try {
            return work.get();
        } finally {
            if (before == null) {
                CURRENT.remove();
            } else {
                CURRENT.set(before);
            }
        }
    }

    /** Does the work as this organisation, then as whoever was bound before. */
    public static void runAs(TenantId tenant, Runnable work) {
        callAs(tenant, () -> {
            work.run();
            return true;
        });
    }
}
