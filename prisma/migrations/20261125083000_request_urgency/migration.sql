ALTER TABLE "Bird" ADD COLUMN "requestUrgency" TEXT;
