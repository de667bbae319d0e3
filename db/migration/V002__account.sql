-- Nobody's tables: read only by the module account and the sign-in, so they have no policy.
create table organisation (
    id         uuid primary key,
    kind       text not null check (kind in ('FLEET', 'REPAIRER', 'PLATFORM')),
    name       text not null check (length(name) between 1 and 120),
    country    text not null check (country ~ '^[A-Z]{2}$'),
    pattern    int not null check (pattern between 1 and 8),
    version    int not null,
    created_at timestamptz not null
);

create table person (
    id            uuid primary key,
    email         text not null unique check (email = lower(email)),
    name          text not null check (length(name) between 1 and 120),
    password_hash text not null,
    created_at    timestamptz not null
);

create table membership (
    tenant_id uuid not null references organisation,
    person_id uuid not null references person,
    roles     text[] not null check (roles <@ array ['DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'ADMINISTRATOR', 'OPERATOR']),
    version   int not null,
    primary key (tenant_id, person_id)
);
create index membership_person on membership (person_id);

-- Failed attempts by e-mail and by address, both as digests. Old rows are swept.
create table sign_in_attempt (
    id        bigint generated always as identity primary key,
    subject   text not null,
    failed_at timestamptz not null
);
create index sign_in_attempt_subject on sign_in_attempt (subject, failed_at);
create index sign_in_attempt_time on sign_in_attempt (failed_at);

-- Keys of programs, as digests of their secrets.
create table token (
    tenant_id    uuid not null default current_tenant(),
    id           uuid not null,
    person_id    uuid not null,
    name         text not null check (length(name) between 1 and 120),
    roles        text[] not null,
    digest       bytea not null,
    created_at   timestamptz not null,
    expires_at   timestamptz not null,
    last_used_at timestamptz,
    revoked_at   timestamptz,
    primary key (tenant_id, id),
    foreign key (tenant_id, person_id) references membership
);
call isolate_tenant('token');
create index token_newest on token (tenant_id, created_at desc, id desc);

-- Which repairer works for which fleet. tenant_id is the fleet, performer_id the repairer.
create table partner (
    tenant_id    uuid not null references organisation,
    performer_id uuid not null references organisation,
    id           uuid not null,
    state        text not null check (state in ('INVITED', 'ACTIVE', 'ENDED')),
    fleet_name   text not null,
    repairer_name text not null,
    terms        text not null default '' check (length(terms) <= 2000),
    version      int not null,
    created_at   timestamptz not null,
    primary key (tenant_id, id),
    unique (performer_id, id),
    unique (tenant_id, performer_id),
    check (tenant_id <> performer_id)
);
call isolate_parties('partner');
revoke update, delete on partner from quarterlight_app;
grant update (state, terms, version) on partner to quarterlight_app;

-- The answer to a request that carried an Idempotency-Key, written in the transaction of what the request changed.
create table idempotency_key (
    tenant_id  uuid not null default current_tenant(),
    person     text not null,
    key        text not null check (length(key) between 1 and 200),
    digest     bytea not null,
    secret     boolean not null,
    status     int not null,
    headers    jsonb not null,
    body       bytea not null,
    created_at timestamptz not null,
    primary key (tenant_id, person, key)
);
call isolate_tenant('idempotency_key');
create index idempotency_key_age on idempotency_key (tenant_id, created_at);
