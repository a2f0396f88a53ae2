ALTER TABLE "Bird" ADD COLUMN "dispositionDetail" JSONB;
