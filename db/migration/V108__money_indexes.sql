-- What is not invoiced yet, as the fleet asks; and an invoice from either side.
create index charge_fleet_open on charge (tenant_id, visited_on desc, id desc) where invoice_number is null;
create index charge_fleet_invoice on charge (tenant_id, invoice_number) where invoice_number is not null;
-- Lots that are used up stay with their nought; what lies in a place is few of them.
create index stock_balance_there on stock_balance (tenant_id, place_id, lot_id) where quantity > 0;
