-- The few finds that have no accession yet, in the order in which the desk lists them. The index over all finds by
-- accession cannot give them in an order: PostgreSQL does not count IS NULL as one value.
CREATE INDEX salvage_record_unaccessioned ON "SalvageRecord" ("collectionId", state, "loggedAt") WHERE "accessionId" IS NULL;
