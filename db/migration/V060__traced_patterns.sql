-- A picture that somebody traces a glass over. The bytes lie in the data folder; it is never changed.
create table pattern_picture (
    tenant_id  uuid not null default current_tenant(),
    id         uuid not null,
    sha256     text not null check (sha256 ~ '^[0-9a-f]{64}$'),
    media_type text not null,
    bytes      bigint not null check (bytes > 0),
    width      int not null check (width > 0),
    height     int not null check (height > 0),
    added_at   timestamptz not null,
    added_by   text not null,
    primary key (tenant_id, id)
);
call isolate_tenant('pattern_picture');
revoke update on pattern_picture from quarterlight_app;
create index pattern_picture_content on pattern_picture (tenant_id, sha256);

-- How the outline of a version was found: the known lengths on the picture. The outline itself stands in the measurements.
alter table glass_pattern_version
    add column traced_over uuid,
    add column trace jsonb,
    add foreign key (tenant_id, traced_over) references pattern_picture,
    add check ((traced_over is null) = (trace is null));
create index glass_pattern_version_traced on glass_pattern_version (tenant_id, traced_over) where traced_over is not null;
