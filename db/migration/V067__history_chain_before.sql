-- Links the lines from before there was a chain, oldest first, a thousand a transaction: nobody waits for it longer
-- than for one such step. May be run again where it was stopped.
create or replace procedure link_earlier_history() language plpgsql as $$
declare
    line history;
    last_tenant uuid := '00000000-0000-0000-0000-000000000000';
    last_id     uuid := '00000000-0000-0000-0000-000000000000';
    done int;
begin
    loop
        done := 0;
        for line in
            select h.* from history h
            where (h.tenant_id, h.id) > (last_tenant, last_id)
              and not exists (select from history_link l where l.tenant_id = h.tenant_id and l.history_id = h.id)
            order by h.tenant_id, h.id limit 1000
        loop
            perform link_history(line);
            last_tenant := line.tenant_id;
            last_id := line.id;
            done := done + 1;
        end loop;
        commit;
        exit when done = 0;
    end loop;
end $$;
call link_earlier_history();
drop procedure link_earlier_history();
