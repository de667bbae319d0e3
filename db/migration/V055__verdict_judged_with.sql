-- What a verdict was judged with besides what it names itself: vehicle, choices, and who else was on the glass. Observations,
-- glass patterns and published sheets never change, so with this it can be computed again. Verdicts from before have none.
alter table verdict add column judged_with jsonb;
