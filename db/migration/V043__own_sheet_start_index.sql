-- Only versions that wait for their day stand there: so few that an index finds them no sooner.
drop index own_sheet_start_due;
