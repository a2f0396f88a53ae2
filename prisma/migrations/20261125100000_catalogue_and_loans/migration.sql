-- AlterTable
ALTER TABLE "Loan" ADD COLUMN     "parcel" JSONB;

-- CreateTable
CREATE TABLE "Deaccession" (
    "materialId" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "method" TEXT NOT NULL,
    "leftOn" DATE NOT NULL,
    "authority" TEXT NOT NULL,
    "document" TEXT NOT NULL,
    "documentId" UUID,
    "reason" TEXT NOT NULL,
    "recordedById" UUID NOT NULL,
    "recordedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Deaccession_pkey" PRIMARY KEY ("materialId")
);

-- CreateTable
CREATE TABLE "CatalogueIndex" (
    "birdId" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "catalogueNumber" TEXT,
    "prepNumber" TEXT,
    "numbers" TEXT NOT NULL,
    "running" BIGINT[],
    "taxonId" UUID,
    "taxonName" TEXT NOT NULL,
    "commonName" TEXT,
    "familyName" TEXT,
    "sensitive" BOOLEAN NOT NULL,
    "stage" TEXT NOT NULL,
    "carcassState" TEXT NOT NULL,
    "sex" TEXT NOT NULL,
    "age" TEXT,
    "styleId" TEXT,
    "foundFrom" DATE NOT NULL,
    "foundTo" DATE NOT NULL,
    "months" SMALLINT[],
    "receivedOn" DATE NOT NULL,
    "preparedOn" DATE,
    "approvedOn" DATE,
    "country" TEXT NOT NULL,
    "stateProvince" TEXT NOT NULL,
    "county" TEXT NOT NULL,
    "locality" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "kinds" TEXT[],
    "custodies" TEXT[],
    "materialStates" TEXT[],
    "tissues" TEXT[],
    "qualities" SMALLINT[],
    "warnings" TEXT NOT NULL,
    "preparatorId" UUID,
    "workerIds" UUID[],
    "permitId" UUID,
    "finderId" UUID,

    CONSTRAINT "CatalogueIndex_pkey" PRIMARY KEY ("birdId")
);

-- CreateIndex
CREATE INDEX "CatalogueIndex_collectionId_number_birdId_idx" ON "CatalogueIndex"("collectionId", "number", "birdId");

-- CreateIndex
CREATE INDEX "CatalogueIndex_collectionId_catalogueNumber_birdId_idx" ON "CatalogueIndex"("collectionId", "catalogueNumber", "birdId");

-- CreateIndex
CREATE INDEX "CatalogueIndex_collectionId_foundFrom_birdId_idx" ON "CatalogueIndex"("collectionId", "foundFrom", "birdId");

-- CreateIndex
CREATE INDEX "CatalogueIndex_collectionId_taxonName_birdId_idx" ON "CatalogueIndex"("collectionId", "taxonName", "birdId");

-- CreateIndex
CREATE INDEX "CatalogueIndex_taxonId_idx" ON "CatalogueIndex"("taxonId");

-- CreateIndex
CREATE INDEX "CatalogueIndex_preparatorId_idx" ON "CatalogueIndex"("preparatorId");

-- CreateIndex
CREATE UNIQUE INDEX "SavedView_collectionId_personId_page_name_key" ON "SavedView"("collectionId", "personId", "page", "name");

-- AddForeignKey
ALTER TABLE "Deaccession" ADD CONSTRAINT "Deaccession_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CatalogueIndex" ADD CONSTRAINT "CatalogueIndex_birdId_fkey" FOREIGN KEY ("birdId") REFERENCES "Bird"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- ---------------------------------------------------------------- words
ALTER TABLE "Deaccession" ADD CONSTRAINT deaccession_method CHECK (method IN ('transferred', 'exchanged', 'repatriated',
  'destroyed', 'lost'));
ALTER TABLE "Loan"
  ADD CONSTRAINT loan_kind CHECK (kind IN ('loan', 'grant')),
  ADD CONSTRAINT loan_sent_with_due_date CHECK ("sentAt" IS NULL OR "dueOn" IS NOT NULL);

-- ---------------------------------------------------------------- separation of duties, for everybody who worked on it
CREATE OR REPLACE FUNCTION nobody_approves_their_own() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "BenchRecord" r WHERE r."birdId" = NEW."birdId"
      AND (NEW."approvedById" IN (r."preparatorId", r."scribeId")
        OR EXISTS (SELECT 1 FROM "BenchEntry" WHERE "recordId" = r.id AND "enteredById" = NEW."approvedById"))) THEN
    RAISE EXCEPTION 'FURCULA: Nobody approves a bench record of their own; ask another curator.' USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;

-- Nobody decides on a request of their own either.
CREATE FUNCTION nobody_grants_their_own() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."decidedById" IS NOT NULL AND NEW."decidedById" = NEW."askedById" THEN
    RAISE EXCEPTION 'FURCULA: Nobody decides on their own request; ask another curator.' USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER nobody_grants_their_own BEFORE INSERT OR UPDATE OF "decidedById" ON "Loan"
  FOR EACH ROW EXECUTE FUNCTION nobody_grants_their_own();

-- ---------------------------------------------------------------- approved: changed by amendments only
-- The values of an approved record change only in a transaction that also wrote an amendment of it.
CREATE FUNCTION approved_bench_is_locked() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.state <> 'approved' THEN RETURN COALESCE(NEW, OLD); END IF;
  IF TG_OP = 'UPDATE' AND NEW.state = 'approved' AND NEW."birdId" = OLD."birdId" AND NEW."prepNumber" = OLD."prepNumber"
      AND NEW."preparatorId" = OLD."preparatorId" AND NEW."styleId" = OLD."styleId"
      AND NEW."boneExplanation" IS NOT DISTINCT FROM OLD."boneExplanation"
      AND (NEW.values = OLD.values OR EXISTS (
        SELECT 1 FROM "Amendment" a JOIN "CatalogueEntry" e ON e.id = a."entryId"
        WHERE e."birdId" = OLD."birdId" AND a.xmin::text = (pg_current_xact_id()::text::numeric % 4294967296)::text)) THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'FURCULA: This record is approved and locked; make an amendment with a reason.' USING ERRCODE = 'FU001';
END $$;
CREATE TRIGGER approved_bench_is_locked BEFORE UPDATE OR DELETE ON "BenchRecord"
  FOR EACH ROW EXECUTE FUNCTION approved_bench_is_locked();

-- What was approved, and what was amended, stays as it was written.
CREATE FUNCTION approved_stays_approved() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'FURCULA: An approved entry is kept as it was approved; make an amendment with a reason.'
    USING ERRCODE = 'FU001';
END $$;
CREATE TRIGGER approved_stays_approved BEFORE UPDATE OR DELETE ON "CatalogueEntry"
  FOR EACH ROW EXECUTE FUNCTION approved_stays_approved();
CREATE TRIGGER amendment_stays BEFORE UPDATE OR DELETE ON "Amendment"
  FOR EACH ROW EXECUTE FUNCTION approved_stays_approved();

-- ---------------------------------------------------------------- the row that the search reads
CREATE FUNCTION catalogue_index_refresh(bird uuid) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  -- Two who change one bird at once: the second waits here and then computes from what the first committed.
  PERFORM pg_advisory_xact_lock(hashtextextended(bird::text, 0));
  DELETE FROM "CatalogueIndex" WHERE "birdId" = bird;
  INSERT INTO "CatalogueIndex" ("birdId", "collectionId", number, "catalogueNumber", "prepNumber", numbers, running,
    "taxonId", "taxonName", "commonName", "familyName", sensitive, stage, "carcassState", sex, age, "styleId",
    "foundFrom", "foundTo", months, "receivedOn", "preparedOn", "approvedOn", country, "stateProvince", county,
    locality, words, kinds, custodies, "materialStates", tissues, qualities, warnings, "preparatorId", "workerIds",
    "permitId", "finderId")
  SELECT b.id, b."collectionId", b.number, e.number, r."prepNumber",
    ' ' || lower(array_to_string(n.all_numbers || v.codes, ' ')) || ' ',
    ARRAY(SELECT DISTINCT substring(one FROM '(\d{1,15})$')::bigint FROM unnest(n.all_numbers) one WHERE one ~ '\d$'),
    b."taxonId", COALESCE(t."scientificName", s."verbatimTaxon"), t."commonName", t."familyName",
    COALESCE(t.sensitive, false),
    CASE WHEN e.id IS NOT NULL AND b.disposition IS NOT NULL THEN 'deaccessioned' WHEN e.id IS NOT NULL THEN 'catalogued'
      WHEN r.state IN ('in-review', 'returned') THEN r.state ELSE b.state END,
    b.state, b.sex, r.values #>> '{age,value}', COALESCE(r."styleId", b."styleId"), s."foundFrom", s."foundTo",
    ARRAY(SELECT DISTINCT extract(month FROM d)::smallint FROM generate_series(date_trunc('month', s."foundFrom"),
      LEAST(s."foundTo", s."foundFrom" + interval '11 months')::timestamp, interval '1 month') d ORDER BY 1),
    s."receivedOn", (COALESCE(r."finishedAt", r."sentAt", r."startedAt") AT TIME ZONE c."timeZone")::date,
    (e."approvedAt" AT TIME ZONE c."timeZone")::date, s.country, s."stateProvince", s.county, s.locality,
    lower(concat_ws(' ', s."verbatimTaxon", s.circumstances, s.cause, s.remarks, r.values #>> '{remarks,value}')),
    m.kinds, m.custodies, m.states, v.tissues, v.qualities, COALESCE(lower(NULLIF(r.overrides, '{}')::text), ''),
    r."preparatorId", array_remove(ARRAY[r."preparatorId", r."scribeId", s."loggedById", e."approvedById"], NULL),
    s."permitId", s."finderId"
  FROM "Bird" b
  JOIN "Collection" c ON c.id = b."collectionId"
  JOIN "SalvageRecord" s ON s.id = b."salvageId"
  LEFT JOIN "Taxon" t ON t.id = b."taxonId"
  LEFT JOIN "BenchRecord" r ON r."birdId" = b.id
  LEFT JOIN "CatalogueEntry" e ON e."birdId" = b.id
  LEFT JOIN "Accession" a ON a.id = s."accessionId"
  CROSS JOIN LATERAL (SELECT array_remove(ARRAY[e.number, b.number, r."prepNumber", a.number, s."bandNumber"], NULL)
    AS all_numbers) n
  CROSS JOIN LATERAL (SELECT COALESCE(array_agg(DISTINCT kind) FILTER (WHERE custody <> 'used-up' OR kind <> 'carcass'),
      '{}') AS kinds,
    COALESCE(array_agg(DISTINCT custody), '{}') AS custodies,
    COALESCE(array_agg(DISTINCT state) FILTER (WHERE state IS NOT NULL), '{}') AS states
    FROM "Material" WHERE "birdId" = b.id) m
  CROSS JOIN LATERAL (SELECT COALESCE(array_agg(DISTINCT vial.code), '{}') AS codes,
    COALESCE(array_agg(DISTINCT tissue) FILTER (WHERE tissue IS NOT NULL), '{}') AS tissues,
    COALESCE(array_agg(DISTINCT vial."qualityClass"::smallint) FILTER (WHERE vial."qualityClass" IS NOT NULL), '{}')
      AS qualities
    FROM "Material" held JOIN "Vial" vial ON vial."materialId" = held.id
    LEFT JOIN LATERAL unnest(vial.tissues) tissue ON true WHERE held."birdId" = b.id) v
  WHERE b.id = bird;
END $$;

-- At the end of the transaction, so that its rows are locked as shortly as possible.
CREATE FUNCTION catalogue_index_follow() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  CASE TG_TABLE_NAME
    WHEN 'Bird' THEN PERFORM catalogue_index_refresh(NEW.id);
    WHEN 'SalvageRecord' THEN PERFORM catalogue_index_refresh(id) FROM "Bird" WHERE "salvageId" = NEW.id;
    WHEN 'Vial' THEN PERFORM catalogue_index_refresh("birdId") FROM "Material" WHERE id = NEW."materialId";
    ELSE PERFORM catalogue_index_refresh(NEW."birdId");
  END CASE;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER catalogue_index_bird AFTER INSERT OR UPDATE OF number, "taxonId", state, sex, "styleId",
  disposition ON "Bird" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_index_follow();
CREATE CONSTRAINT TRIGGER catalogue_index_salvage AFTER UPDATE ON "SalvageRecord"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_index_follow();
CREATE CONSTRAINT TRIGGER catalogue_index_bench AFTER INSERT OR UPDATE ON "BenchRecord"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_index_follow();
CREATE CONSTRAINT TRIGGER catalogue_index_entry AFTER INSERT ON "CatalogueEntry"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_index_follow();
CREATE CONSTRAINT TRIGGER catalogue_index_material AFTER INSERT OR UPDATE OF kind, state, custody ON "Material"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_index_follow();
CREATE CONSTRAINT TRIGGER catalogue_index_vial AFTER INSERT OR UPDATE OF code, tissues, "qualityClass" ON "Vial"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_index_follow();

CREATE FUNCTION catalogue_index_taxon() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "CatalogueIndex" SET "taxonName" = NEW."scientificName", "commonName" = NEW."commonName",
    "familyName" = NEW."familyName", sensitive = NEW.sensitive WHERE "taxonId" = NEW.id;
  RETURN NULL;
END $$;
CREATE TRIGGER catalogue_index_taxon AFTER UPDATE OF "scientificName", "commonName", "familyName", sensitive ON "Taxon"
  FOR EACH ROW WHEN (OLD IS DISTINCT FROM NEW) EXECUTE FUNCTION catalogue_index_taxon();

CREATE INDEX catalogue_index_numbers_trgm ON "CatalogueIndex" USING gin (numbers gin_trgm_ops);
CREATE INDEX catalogue_index_running ON "CatalogueIndex" USING gin (running);
CREATE INDEX catalogue_index_words_trgm ON "CatalogueIndex" USING gin (words gin_trgm_ops);
CREATE INDEX catalogue_index_place_trgm ON "CatalogueIndex"
  USING gin ((lower(country || ' ' || "stateProvince" || ' ' || county)) gin_trgm_ops, (lower(locality)) gin_trgm_ops);
CREATE INDEX catalogue_index_workers ON "CatalogueIndex" USING gin ("workerIds");
CREATE INDEX catalogue_index_stage ON "CatalogueIndex" ("collectionId", stage);
CREATE INDEX bone_entry_element ON "BoneEntry" (element, side, state);

SELECT catalogue_index_refresh(id) FROM "Bird";
