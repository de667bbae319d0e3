package org.quarterlight.account;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Stale;
import org.springframework.data.domain.Persistable;

/** An agreement between a fleet and a repairer: invited by the fleet, accepted by the repairer, ended by either. */
@Entity
class Partner implements Persistable<UUID> {
    @Id
    private UUID id;

    private @Column(updatable = false) UUID tenantId;
    private @Column(updatable = false) UUID performerId;
    private @Enumerated(EnumType.STRING) PartnerState state;
    private @Column(updatable = false) String fleetName;
    private @Column(updatable = false) String repairerName;
    private String terms;
    private @Version @Nullable Integer version;
    private @Column(updatable = false) Instant createdAt;

    protected Partner() {}

    Partner(UUID id, OrganisationView fleet, OrganisationView repairer, String terms, Instant createdAt) {
        this.id = id;
        this.tenantId = fleet.id();
        this.performerId = repairer.id();
        this.state = PartnerState.INVITED;
        this.fleetName = fleet.name();
        this.repairerName = repairer.name();
        this.terms = terms;
        this.createdAt = createdAt;
    }

    /** Answers whether this is news. */
    boolean accept() {
        if (state == PartnerState.ENDED) {
            throw new PartnershipEnded();
        }
        return turns(PartnerState.ACTIVE);
    }

    /** Answers whether this is news. */
    boolean end() {
        return turns(PartnerState.ENDED);
    }

    /** An ended agreement may be offered again; without new terms those agreed to stay. Answers whether this is news. */
    boolean inviteAgain(@Nullable String newTerms) {
        var news = state == PartnerState.ENDED && turns(PartnerState.INVITED);
        if (newTerms != null && !newTerms.equals(terms)) {
            terms = newTerms;
            news = true;
        }
        return news;
    }

    private boolean turns(PartnerState next) {
        var news = state != next;
        state = next;
        return news;
    }

    void changeTerms(String newTerms, int expectedVersion) {
        Stale.check("The agreement", expectedVersion, version == null ? 0 : version);
        terms = newTerms;
    }

    UUID fleet() {
        return tenantId;
    }

    UUID repairer() {
        return performerId;
    }

    PartnerView view() {
        return new PartnerView(
                id,
                tenantId,
                fleetName,
                performerId,
                repairerName,
                state,
                terms,
                createdAt,
                version == null ? 0 : version);
    }

    @Override
    public UUID getId() {
        return id;
    }

    @Override
    public boolean isNew() {
        return version == null;
    }
}
