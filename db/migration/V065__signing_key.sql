-- What the installation signs with: nobody's rows, for every organisation's certificates are signed by the same key. The
-- private half is encrypted with the installation's secret, so that all nodes can use it and a dump alone cannot. A key
-- that is retired loses it; its public half stays for as long as there are certificates.
create table signing_key (
    id          text primary key check (id ~ '^[A-Za-z0-9_-]{43}$'),
    public_key  bytea not null,
    private_key bytea,
    made_at     timestamptz not null,
    retired_at  timestamptz,
    check ((private_key is null) = (retired_at is not null))
);
create unique index signing_key_present on signing_key ((retired_at is null)) where retired_at is null;
revoke update, delete on signing_key from quarterlight_app;
grant update (private_key, retired_at) on signing_key to quarterlight_app;
