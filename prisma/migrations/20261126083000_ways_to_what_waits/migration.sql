-- The birds of a taxon that came last, for comparisons at the bench.
CREATE INDEX "Bird_collectionId_taxonId_id_idx" ON "Bird" ("collectionId", "taxonId", id);
DROP INDEX "Bird_collectionId_taxonId_idx";
-- The finds of an accession, and those that have none.
CREATE INDEX "SalvageRecord_accessionId_collectionId_state_idx" ON "SalvageRecord" ("accessionId", "collectionId", state);
