-- When the person was told that a claim ends; who works on the bird beside the claimant.
ALTER TABLE "Bird" ADD COLUMN "claimNoticedAt" TIMESTAMPTZ(3), ADD COLUMN "coWorkerId" UUID;

-- A day plan is computed beside the web server: since when, until when.
ALTER TABLE "DayPlan" ADD COLUMN "startedAt" TIMESTAMPTZ(3), ADD COLUMN "finishedAt" TIMESTAMPTZ(3);
ALTER TABLE "DayPlan" ALTER COLUMN "outcome" SET DEFAULT '{}';
ALTER TABLE "DayPlan" ALTER COLUMN "state" SET DEFAULT 'asked';

ALTER TABLE "DayPlan" ADD CONSTRAINT "DayPlan_state_known" CHECK (
  "state" IN ('asked', 'working', 'proposed', 'no-plan', 'stopped', 'failed', 'in-force', 'set-aside')
);
-- One plan a day is in force.
CREATE UNIQUE INDEX "DayPlan_one_in_force" ON "DayPlan"("collectionId", "planOn") WHERE "state" = 'in-force';
