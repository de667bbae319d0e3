package org.quarterlight.tenancy;

import org.aspectj.lang.ProceedingJoinPoint;
import org.aspectj.lang.annotation.Around;
import org.aspectj.lang.annotation.Aspect;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Binds an event's organisation before its listener's transaction begins. */
@Aspect
@Component
@Order(0)
class TenantOfEvents {
    @Around("@annotation(org.springframework.modulith.events.ApplicationModuleListener) && args(event)")
    @Nullable
    Object asTheEventsTenant(ProceedingJoinPoint listener, TenantEvent event) {
        return Tenants.callAs(event.tenant(), () -> proceed(listener));
    }

    private static @Nullable Object proceed(ProceedingJoinPoint listener) {
        try {
            return listener.proceed();
        } catch (RuntimeException | Error e) {
            throw e;
        } catch (Throwable e) {
            throw new IllegalStateException(e);
        }
    }
}
