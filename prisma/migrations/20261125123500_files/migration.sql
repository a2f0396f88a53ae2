-- AlterTable
ALTER TABLE "Attachment" ADD COLUMN     "birdId" UUID,
ADD COLUMN     "hasPlace" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "heightPx" INTEGER,
ADD COLUMN     "publicSha256" TEXT,
ADD COLUMN     "thumbSha256" TEXT,
ADD COLUMN     "widthPx" INTEGER;

-- CreateIndex
CREATE INDEX "Attachment_birdId_idx" ON "Attachment"("birdId");

-- CreateIndex
CREATE INDEX "Attachment_collectionId_uploadedAt_idx" ON "Attachment"("collectionId", "uploadedAt");

ALTER TABLE "Attachment"
  ADD CONSTRAINT attachment_subject CHECK ("subjectType" IN ('bird', 'salvage', 'loan', 'loan-line')),
  ADD CONSTRAINT attachment_size CHECK ("sizeBytes" > 0),
  ADD CONSTRAINT attachment_digest CHECK (sha256 ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT attachment_picture_has_copies CHECK (("mediaType" LIKE 'image/%') = ("publicSha256" IS NOT NULL)
    AND ("publicSha256" IS NULL) = ("thumbSha256" IS NULL));

-- One file once on one subject.
CREATE UNIQUE INDEX attachment_once ON "Attachment" ("subjectType", "subjectId", sha256) WHERE "removedAt" IS NULL;

-- What was handed in stays what it was: only its caption changes, and it may be removed from sight.
CREATE FUNCTION attachment_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND to_jsonb(NEW) - 'caption' - 'removedAt' = to_jsonb(OLD) - 'caption' - 'removedAt' THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'FURCULA: A file that was handed in stays as it is; remove it and add another.' USING ERRCODE = 'FU001';
END $$;
CREATE TRIGGER attachment_stays BEFORE UPDATE OR DELETE ON "Attachment"
  FOR EACH ROW EXECUTE FUNCTION attachment_stays();
