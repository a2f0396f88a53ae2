-- DropIndex
DROP INDEX "BenchEntry_recordId_field_enteredAt_idx";

-- AlterTable
ALTER TABLE "BenchEntry" ADD COLUMN     "seq" SERIAL NOT NULL,
ADD COLUMN     "outranked" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "undoesId" UUID;

-- AlterTable
ALTER TABLE "BenchRecord" ADD COLUMN     "lackExplanation" TEXT,
ADD COLUMN     "styleVersion" INTEGER NOT NULL DEFAULT 1;

-- CreateTable
CREATE TABLE "BenchStyle" (
    "collectionId" UUID NOT NULL,
    "styleId" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "data" JSONB NOT NULL,
    "savedById" UUID NOT NULL,
    "savedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "BenchStyle_pkey" PRIMARY KEY ("collectionId","styleId","version")
);

-- CreateTable
CREATE TABLE "ReferenceTable" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "loadedById" UUID NOT NULL,
    "loadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ReferenceTable_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReferenceMeasure" (
    "tableId" UUID NOT NULL,
    "scientificName" TEXT NOT NULL,
    "field" TEXT NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,

    CONSTRAINT "ReferenceMeasure_pkey" PRIMARY KEY ("tableId","scientificName","field")
);

-- CreateIndex
CREATE UNIQUE INDEX "ReferenceTable_collectionId_title_key" ON "ReferenceTable"("collectionId", "title");

-- CreateIndex
CREATE INDEX "ReferenceMeasure_scientificName_idx" ON "ReferenceMeasure"("scientificName");

-- CreateIndex
CREATE INDEX "BenchEntry_recordId_field_seq_idx" ON "BenchEntry"("recordId", "field", "seq");

-- CreateIndex
CREATE INDEX "Bird_collectionId_taxonId_idx" ON "Bird"("collectionId", "taxonId");

-- AddForeignKey
ALTER TABLE "ReferenceMeasure" ADD CONSTRAINT "ReferenceMeasure_tableId_fkey" FOREIGN KEY ("tableId") REFERENCES "ReferenceTable"("id") ON DELETE CASCADE ON UPDATE CASCADE;
