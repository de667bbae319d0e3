-- What of a glass nobody measured: taken from another glass, and shown so. Null where nobody was asked.
alter table glass_pattern_version add column assumed text[];
