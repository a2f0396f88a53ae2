-- An element that is undecided or missing has no place.
ALTER TABLE "BoneEntry" ALTER COLUMN "place" DROP NOT NULL;
UPDATE "BoneEntry" SET "place" = NULL, "materialId" = NULL WHERE "state" = 'missing';
ALTER TABLE "BoneEntry" ADD CONSTRAINT bone_missing_has_no_place CHECK (state <> 'missing' OR place IS NULL);

-- A step keeps what it was called and the state it means, whatever its procedure says later.
ALTER TABLE "ProcessStep" ADD COLUMN "name" TEXT,
ADD COLUMN "procedureId" TEXT,
ADD COLUMN "state" TEXT,
ADD COLUMN "temperatureC" DOUBLE PRECISION;
UPDATE "ProcessStep" SET "name" = "step", "state" = "step";
ALTER TABLE "ProcessStep" ALTER COLUMN "name" SET NOT NULL, ALTER COLUMN "state" SET NOT NULL;
ALTER TABLE "ProcessStep"
  ADD CONSTRAINT process_step_order CHECK ("endedAt" >= "startedAt"),
  ADD CONSTRAINT process_step_due CHECK ("dueAt" >= "startedAt");

-- CreateTable
CREATE TABLE "BoxCount" (
    "id" UUID NOT NULL,
    "materialId" UUID NOT NULL,
    "lines" JSONB NOT NULL,
    "note" TEXT,
    "countedById" UUID NOT NULL,
    "countedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "BoxCount_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "BoneQuestion" (
    "id" UUID NOT NULL,
    "countId" UUID NOT NULL,
    "element" TEXT NOT NULL,
    "side" TEXT NOT NULL,
    "verdict" TEXT NOT NULL,
    "expectedMin" INTEGER NOT NULL,
    "expectedMax" INTEGER NOT NULL,
    "counted" INTEGER,
    "question" TEXT NOT NULL,
    "answer" TEXT,
    "answeredById" UUID,
    "answeredAt" TIMESTAMPTZ(3),

    CONSTRAINT "BoneQuestion_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "BoxCount_materialId_countedAt_idx" ON "BoxCount"("materialId", "countedAt");

-- CreateIndex
CREATE UNIQUE INDEX "BoneQuestion_countId_element_side_key" ON "BoneQuestion"("countId", "element", "side");

-- AddForeignKey
ALTER TABLE "BoxCount" ADD CONSTRAINT "BoxCount_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BoneQuestion" ADD CONSTRAINT "BoneQuestion_countId_fkey" FOREIGN KEY ("countId") REFERENCES "BoxCount"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "BoneQuestion"
  ADD CONSTRAINT bone_question_side CHECK (side IN ('left', 'right', 'unpaired')),
  ADD CONSTRAINT bone_question_verdict CHECK (verdict IN ('short', 'over', 'unexpected', 'not-counted')),
  ADD CONSTRAINT bone_question_answered CHECK (("answeredAt" IS NULL) = (answer IS NULL));

-- The bone book is part of the bench record: locked with it.
CREATE FUNCTION approved_bones_are_locked() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "BenchRecord" WHERE "birdId" = COALESCE(NEW."birdId", OLD."birdId") AND state = 'approved') THEN
    RAISE EXCEPTION 'FURCULA: This record is approved and locked; make an amendment with a reason.' USING ERRCODE = 'FU001';
  END IF;
  RETURN COALESCE(NEW, OLD);
END $$;
CREATE TRIGGER approved_bones_are_locked BEFORE INSERT OR UPDATE OR DELETE ON "BoneEntry"
  FOR EACH ROW EXECUTE FUNCTION approved_bones_are_locked();
