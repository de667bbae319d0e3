package org.quarterlight.account;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.web.Memberships;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Reads who may act for whom: one indexed row at every request. */
@Component
class MembershipRows implements Memberships {
    private static final String ACTING = """
        select m.tenant_id, m.person_id, m.roles, o.kind, o.name as organisation, o.pattern, p.name
        from membership m
        join organisation o on o.id = m.tenant_id
        join person p on p.id = m.person_id
        where m.person_id = :person and cardinality(m.roles) > 0 and not m.invited
            and not p.password_is_first
        """;

    private final JdbcClient jdbc;

    MembershipRows(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Acting> acting(UUID person, TenantId organisation) {
        return jdbc.sql(ACTING + "and m.tenant_id = :organisation")
                .param("person", person)
                .param("organisation", organisation.value())
                .query(MembershipRows::acting)
                .optional();
    }

    @Override
    @Transactional(readOnly = true)
    public List<Acting> of(UUID person) {
        return jdbc.sql(ACTING + "order by o.name, o.id")
                .param("person", person)
                .query(MembershipRows::acting)
                .list();
    }

    static Set<Role> roles(ResultSet row) throws SQLException {
        var roles = EnumSet.noneOf(Role.class);
        Arrays.stream((String[]) row.getArray("roles").getArray())
                .map(Role::valueOf)
                .forEach(roles::add);
        return roles;
    }

    private static Acting acting(ResultSet row, int number) throws SQLException {
        return new Acting(
                new TenantId(row.getObject("tenant_id", UUID.class)),
                OrganisationKind.valueOf(row.getString("kind")),
                row.getString("organisation"),
                row.getInt("pattern"),
                row.getObject("person_id", UUID.class),
                row.getString("name"),
                roles(row),
                null);
    }
}
