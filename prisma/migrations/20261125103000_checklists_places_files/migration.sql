-- Checklists are read in the background; places keep how they were written and how sure they are; files handed in for
-- background work wait in the database.
ALTER TABLE "Checklist"
  ADD COLUMN "state" TEXT NOT NULL DEFAULT 'ready',
  ADD COLUMN "fileName" TEXT,
  ADD COLUMN "fileId" UUID,
  ADD COLUMN "bytesTotal" INTEGER NOT NULL DEFAULT 0,
  ADD COLUMN "bytesRead" INTEGER NOT NULL DEFAULT 0,
  ADD COLUMN "rowsRead" INTEGER NOT NULL DEFAULT 0,
  ADD COLUMN "rowsLeftOut" INTEGER NOT NULL DEFAULT 0,
  ADD COLUMN "problems" JSONB NOT NULL DEFAULT '[]',
  ADD COLUMN "failure" TEXT,
  ADD COLUMN "importedById" UUID,
  ADD COLUMN "currentFrom" TIMESTAMPTZ(3),
  ADD CONSTRAINT checklist_state CHECK (state IN ('reading', 'ready', 'failed')),
  ADD CONSTRAINT checklist_current_is_whole CHECK (NOT current OR state = 'ready');

ALTER TABLE "Taxon" ADD COLUMN "sourceKey" TEXT;
CREATE INDEX "Taxon_checklistId_sortOrder_idx" ON "Taxon"("checklistId", "sortOrder");
CREATE INDEX "Taxon_acceptedId_idx" ON "Taxon"("acceptedId");

ALTER TABLE "Place"
  ADD COLUMN "datum" TEXT,
  ADD COLUMN "uncertaintyDetail" JSONB,
  ADD COLUMN "verbatimCoordinates" TEXT,
  ADD COLUMN "remarks" TEXT,
  ADD COLUMN "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  ADD COLUMN "version" INTEGER NOT NULL DEFAULT 1,
  ADD CONSTRAINT place_latitude CHECK (latitude BETWEEN -90 AND 90),
  ADD CONSTRAINT place_longitude CHECK (longitude BETWEEN -180 AND 180),
  ADD CONSTRAINT place_coordinates CHECK ((latitude IS NULL) = (longitude IS NULL)),
  ADD CONSTRAINT place_uncertainty CHECK ("uncertaintyM" > 0);

CREATE TABLE "HandedInFile" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "fileName" TEXT NOT NULL,
    "sizeBytes" INTEGER NOT NULL DEFAULT 0,
    "sha256" TEXT NOT NULL DEFAULT '',
    "handedInById" UUID,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "HandedInFile_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "HandedInPiece" (
    "fileId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "HandedInPiece_pkey" PRIMARY KEY ("fileId","number")
);

ALTER TABLE "HandedInPiece" ADD CONSTRAINT "HandedInPiece_fileId_fkey" FOREIGN KEY ("fileId") REFERENCES "HandedInFile"("id") ON DELETE CASCADE ON UPDATE CASCADE;
