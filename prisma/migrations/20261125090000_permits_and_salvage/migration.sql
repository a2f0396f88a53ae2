-- Permits: an authority without an end, the holder's account, from when an amendment judges.
ALTER TABLE "Permit" ADD COLUMN "holderPersonId" UUID,
ALTER COLUMN "expiresOn" DROP NOT NULL,
ADD CONSTRAINT permit_kind CHECK (kind IN ('salvage', 'scientific-collecting', 'import', 'export', 'state', 'other'));

ALTER TABLE "PermitAmendment" ADD COLUMN "effectiveOn" DATE;
UPDATE "PermitAmendment" a SET "effectiveOn" = p."effectiveOn" FROM "Permit" p WHERE p.id = a."permitId";
ALTER TABLE "PermitAmendment" ALTER COLUMN "effectiveOn" SET NOT NULL;

-- What an amendment replaced is never rewritten: earlier finds are judged by it.
CREATE FUNCTION amendment_is_kept() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'FURCULA: The earlier text of a permit is kept; amend the permit again instead.' USING ERRCODE = 'FU001';
END $$;
CREATE TRIGGER amendment_is_kept BEFORE UPDATE OR DELETE ON "PermitAmendment"
  FOR EACH ROW EXECUTE FUNCTION amendment_is_kept();

-- Lists belong to the collection whose officer imported them. Nothing wrote here before; should a row exist, it goes to
-- the oldest collection and protects.
DROP INDEX "StatusList_key_edition_key";
ALTER TABLE "StatusList" ADD COLUMN "collectionId" UUID,
ADD COLUMN "credit" TEXT,
ADD COLUMN "editionOn" DATE,
ADD COLUMN "effect" TEXT,
ADD COLUMN "jurisdiction" TEXT,
ADD COLUMN "loadedById" UUID;
UPDATE "StatusList" SET "collectionId" = (SELECT id FROM "Collection" ORDER BY "createdAt" LIMIT 1),
  "editionOn" = "loadedAt"::date, effect = 'protects', jurisdiction = 'US';
ALTER TABLE "StatusList" ALTER COLUMN "collectionId" SET NOT NULL,
ALTER COLUMN "editionOn" SET NOT NULL,
ALTER COLUMN "effect" SET NOT NULL,
ALTER COLUMN "jurisdiction" SET NOT NULL,
ADD CONSTRAINT status_list_effect CHECK (effect IN ('protects', 'flags'));
CREATE UNIQUE INDEX "StatusList_collectionId_key_edition_key" ON "StatusList"("collectionId", "key", "edition");

ALTER TABLE "StatusListRow" DROP COLUMN "note",
DROP COLUMN "status",
ADD COLUMN "acceptedName" TEXT,
ADD COLUMN "englishName" TEXT,
ADD COLUMN "familyName" TEXT,
ADD COLUMN "match" TEXT NOT NULL DEFAULT 'not-tried',
ADD COLUMN "orderName" TEXT,
ADD CONSTRAINT status_row_match CHECK (match IN ('exact-name', 'english-name', 'none', 'not-tried'));

CREATE TABLE "StatusDecision" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "scientificName" TEXT NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'unprotected',
    "cite" TEXT NOT NULL,
    "decidedOn" DATE NOT NULL,
    "decidedById" UUID NOT NULL,
    "decidedByName" TEXT NOT NULL,
    "withdrawnAt" TIMESTAMPTZ(3),
    "withdrawnById" UUID,

    CONSTRAINT "StatusDecision_pkey" PRIMARY KEY ("id"),
    CONSTRAINT decision_status CHECK (status = 'unprotected'),
    CONSTRAINT decision_cited CHECK (btrim(cite) <> '')
);
CREATE INDEX "StatusDecision_collectionId_scientificName_idx" ON "StatusDecision"("collectionId", "scientificName");
CREATE UNIQUE INDEX decision_once ON "StatusDecision" ("collectionId", lower("scientificName"), jurisdiction)
  WHERE "withdrawnAt" IS NULL;

-- Salvage: what the law asks of a find, reports that come twice, finders without an account.
ALTER TABLE "SalvageRecord" ADD COLUMN "clientKey" UUID,
ADD COLUMN "facts" JSONB NOT NULL DEFAULT '{}',
ADD COLUMN "receiptCode" TEXT,
ADD COLUMN "slipId" UUID;
CREATE INDEX "SalvageRecord_collectionId_coverage_idx" ON "SalvageRecord"("collectionId", "coverage");
CREATE UNIQUE INDEX "SalvageRecord_collectionId_clientKey_key" ON "SalvageRecord"("collectionId", "clientKey");
ALTER TABLE "SalvageRecord" ADD CONSTRAINT "SalvageRecord_slipId_fkey" FOREIGN KEY ("slipId") REFERENCES "DropOffSlip"("id") ON DELETE SET NULL ON UPDATE CASCADE;

ALTER TABLE "DropOffSlip" ADD COLUMN "revokedById" UUID;

ALTER TABLE "Hold" ADD COLUMN "document" TEXT,
ADD COLUMN "ruleCode" TEXT,
ADD CONSTRAINT hold_kind CHECK (kind IN ('legal', 'evidence', 'disease', 'event', 'quarantine', 'contact-first',
  'identification', 'missing-data'));
CREATE UNIQUE INDEX hold_open_once ON "Hold" ("salvageId", kind) WHERE "liftedAt" IS NULL;
