-- A lot that is out of use keeps its number for the records, and leaves it free for the next delivery.
alter table resin_lot drop constraint resin_lot_tenant_id_number_key;
create unique index resin_lot_number on resin_lot (tenant_id, number) where retired_at is null;
