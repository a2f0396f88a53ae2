-- Inventory: a scan is known by the id its device gave it, so that two people's scans merge.
ALTER TABLE "InventoryScan" DROP CONSTRAINT "InventoryScan_pkey",
ADD COLUMN     "id" UUID NOT NULL DEFAULT gen_random_uuid(),
ADD COLUMN     "materialId" UUID,
ALTER COLUMN "scannedAt" DROP DEFAULT;
ALTER TABLE "InventoryScan" RENAME COLUMN "scannedBy" TO "scannedById";
ALTER TABLE "InventoryScan" ALTER COLUMN "id" DROP DEFAULT,
ADD CONSTRAINT "InventoryScan_pkey" PRIMARY KEY ("id");

ALTER TABLE "InventorySession" ADD COLUMN     "closedById" UUID,
ADD COLUMN     "outcome" JSONB;

ALTER TABLE "MaterialMove" ADD COLUMN     "toFreezerId" UUID,
ADD COLUMN     "toPosition" TEXT,
ADD COLUMN     "toUnitId" UUID,
ADD COLUMN     "withUnitId" UUID;

ALTER TABLE "StorageUnit" ADD COLUMN     "alarmAboveC" DOUBLE PRECISION,
ADD COLUMN     "allowedPreservations" TEXT[] DEFAULT ARRAY[]::TEXT[],
ADD COLUMN     "parentPosition" TEXT;

-- A log read before these figures were kept would have to be read again.
DELETE FROM "TemperatureLog";
ALTER TABLE "TemperatureLog" ADD COLUMN     "coldestC" DOUBLE PRECISION NOT NULL,
ADD COLUMN     "gaps" JSONB NOT NULL,
ADD COLUMN     "kineticMeanC" DOUBLE PRECISION,
ADD COLUMN     "meanC" DOUBLE PRECISION NOT NULL,
ADD COLUMN     "minutesAbove" DOUBLE PRECISION NOT NULL,
ADD COLUMN     "remarks" JSONB NOT NULL,
ADD COLUMN     "warmestC" DOUBLE PRECISION NOT NULL;

UPDATE "Vial" SET container = 'cryovial' WHERE container IS NULL;
UPDATE "Vial" SET "qualityReason" = 'Not classed.' WHERE "qualityReason" IS NULL;
ALTER TABLE "Vial" DROP COLUMN "deathToFreezeHours",
DROP COLUMN "outOfFreezerMinutes",
ADD COLUMN     "containerMl" DOUBLE PRECISION,
ADD COLUMN     "diedFromAt" TIMESTAMPTZ(3),
ADD COLUMN     "diedUntilAt" TIMESTAMPTZ(3),
ADD COLUMN     "dnaYieldUg" DOUBLE PRECISION,
ADD COLUMN     "filledAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "origin" TEXT NOT NULL DEFAULT 'salvaged',
ADD COLUMN     "outOfFreezerAt" TIMESTAMPTZ(3),
ADD COLUMN     "preservedAt" TIMESTAMPTZ(3),
ADD COLUMN     "remarks" TEXT,
ADD COLUMN     "storedAtC" DOUBLE PRECISION,
ALTER COLUMN "container" SET NOT NULL,
ALTER COLUMN "amount" DROP NOT NULL,
ALTER COLUMN "amountLeft" DROP NOT NULL,
ALTER COLUMN "qualityReason" SET NOT NULL;

ALTER TABLE "VialUse" ADD COLUMN     "thawed" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "unit" TEXT,
ALTER COLUMN "amount" DROP NOT NULL;
UPDATE "VialUse" u SET unit = v."amountUnit" FROM "Vial" v WHERE v."materialId" = u."vialId";

CREATE TABLE "VialThaw" (
    "id" UUID NOT NULL,
    "vialId" UUID NOT NULL,
    "logId" UUID,
    "thaws" INTEGER NOT NULL DEFAULT 1,
    "reason" TEXT NOT NULL,
    "countedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "countedById" UUID NOT NULL,

    CONSTRAINT "VialThaw_pkey" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "VialThaw_vialId_logId_key" ON "VialThaw"("vialId", "logId");
CREATE INDEX "InventoryScan_sessionId_scannedAt_idx" ON "InventoryScan"("sessionId", "scannedAt");
CREATE INDEX "InventorySession_collectionId_startedAt_idx" ON "InventorySession"("collectionId", "startedAt");
CREATE INDEX "MaterialMove_toFreezerId_movedAt_idx" ON "MaterialMove"("toFreezerId", "movedAt");
CREATE UNIQUE INDEX "StorageUnit_parentId_parentPosition_key" ON "StorageUnit"("parentId", "parentPosition");
CREATE INDEX "Vial_collectionId_qualityClass_idx" ON "Vial"("collectionId", "qualityClass");
ALTER TABLE "VialThaw" ADD CONSTRAINT "VialThaw_vialId_fkey" FOREIGN KEY ("vialId") REFERENCES "Vial"("materialId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------- words
ALTER TABLE "StorageUnit"
  ADD CONSTRAINT unit_naming CHECK (naming IN ('row-letter', 'column-letter', 'running-by-row', 'running-by-column')),
  ADD CONSTRAINT unit_parent_position CHECK ("parentPosition" IS NULL OR "parentId" IS NOT NULL),
  ADD CONSTRAINT unit_preservations CHECK ("allowedPreservations"
    <@ ARRAY['frozen', 'liquid-nitrogen', 'ethanol', 'dmso-salt', 'rna-stabiliser', 'dry']);
ALTER TABLE "Vial"
  DROP CONSTRAINT vial_amount,
  ADD CONSTRAINT vial_amount CHECK ((amount IS NULL) = ("amountLeft" IS NULL)
    AND (amount IS NULL OR (amount > 0 AND "amountLeft" >= 0 AND "amountLeft" <= amount))),
  ADD CONSTRAINT vial_amount_unit CHECK ("amountUnit" IN ('mg', 'g', 'ul', 'ml', 'pieces')),
  ADD CONSTRAINT vial_preservation CHECK (preservation
    IN ('frozen', 'liquid-nitrogen', 'ethanol', 'dmso-salt', 'rna-stabiliser', 'dry')),
  ADD CONSTRAINT vial_ethanol CHECK ((preservation = 'ethanol') = ("ethanolPercent" IS NOT NULL)
    AND ("ethanolPercent" IS NULL OR ("ethanolPercent" > 0 AND "ethanolPercent" <= 100))),
  ADD CONSTRAINT vial_origin CHECK (origin IN ('live', 'fresh', 'salvaged')),
  ADD CONSTRAINT vial_quality CHECK ("qualityClass" BETWEEN 1 AND 4),
  ADD CONSTRAINT vial_tissues CHECK (cardinality(tissues) > 0);
ALTER TABLE "VialUse" ADD CONSTRAINT vial_use_unit CHECK ((amount IS NULL) = (unit IS NULL));
ALTER TABLE "VialThaw" ADD CONSTRAINT vial_thaw_counts CHECK (thaws > 0);

-- ---------------------------------------------------------------- nothing twice
-- A stretch of time of one freezer is read from one log only, or its warm spells would count twice.
ALTER TABLE "TemperatureLog" ADD CONSTRAINT temperature_log_once EXCLUDE USING gist (
  "unitId" WITH =, tstzrange("fromAt", "toAt", '[]') WITH &&);

-- A unit is counted once at a time; whoever comes second joins.
CREATE UNIQUE INDEX inventory_session_open ON "InventorySession" ("unitId") WHERE "closedAt" IS NULL;

-- A position of a grid holds a material or a unit, never both. The share lock waits for a unit that is just moving in.
CREATE FUNCTION position_holds_one_thing() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE holder text;
BEGIN
  IF TG_TABLE_NAME = 'Placement' THEN
    IF NEW.position IS NULL THEN RETURN NEW; END IF;
    PERFORM 1 FROM "StorageUnit" WHERE id = NEW."unitId" FOR KEY SHARE;
    SELECT name INTO holder FROM "StorageUnit" WHERE "parentId" = NEW."unitId" AND "parentPosition" = NEW.position;
  ELSE
    IF NEW."parentPosition" IS NULL THEN RETURN NEW; END IF;
    PERFORM 1 FROM "StorageUnit" WHERE id = NEW."parentId" FOR UPDATE;
    SELECT b.number || '-' || m.suffix INTO holder FROM "Placement" p
      JOIN "Material" m ON m.id = p."materialId" JOIN "Bird" b ON b.id = m."birdId"
      WHERE p."unitId" = NEW."parentId" AND p.position = NEW."parentPosition";
  END IF;
  IF holder IS NOT NULL THEN
    RAISE EXCEPTION 'FURCULA: This position already holds %.', holder USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER position_holds_one_thing BEFORE INSERT OR UPDATE OF "unitId", position ON "Placement"
  FOR EACH ROW EXECUTE FUNCTION position_holds_one_thing();
CREATE TRIGGER position_holds_one_thing BEFORE INSERT OR UPDATE OF "parentId", "parentPosition" ON "StorageUnit"
  FOR EACH ROW EXECUTE FUNCTION position_holds_one_thing();
