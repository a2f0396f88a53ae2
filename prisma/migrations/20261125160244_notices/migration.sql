-- DropIndex
DROP INDEX "Notice_personId_readAt_createdAt_idx";

-- AlterTable
ALTER TABLE "Notice"
ADD COLUMN     "announcementId" UUID,
ADD COLUMN     "facts" JSONB,
ADD COLUMN     "inApp" BOOLEAN NOT NULL DEFAULT true,
ADD COLUMN     "mail" TEXT NOT NULL DEFAULT 'none',
ADD COLUMN     "mailClaim" UUID,
ADD COLUMN     "mailClaimedAt" TIMESTAMPTZ(3),
ADD COLUMN     "mailedAt" TIMESTAMPTZ(3);

-- Notices that were kept as sentences become facts: the number of the record, and the figure that the sentence named.
UPDATE "Notice" n SET facts = CASE n.kind
    WHEN 'queue.claim-ending' THEN jsonb_build_object('bird', b.number,
      'daysLeft', COALESCE(substring(n.message FROM ' ends in (\d+) ')::int, 0))
    WHEN 'queue.claim-ran-out' THEN jsonb_build_object('bird', b.number) END
  FROM "Bird" b WHERE b.id = n."subjectId" AND n."subjectType" = 'bird';
UPDATE "Notice" n SET facts = jsonb_build_object('loan', l.number, 'institution', w.institution,
    'days', COALESCE(substring(n.message FROM ' (\d+) days?( overdue)?\.$')::int, 0))
  FROM "Loan" l JOIN "Borrower" w ON w.id = l."borrowerId"
  WHERE l.id = n."subjectId" AND n."subjectType" = 'loan' AND n.kind IN ('loans.due-soon', 'loans.overdue');
-- No other kind was ever written.
DELETE FROM "Notice" WHERE facts IS NULL;
UPDATE "Notice" SET "announcementId" = gen_random_uuid();
ALTER TABLE "Notice" ALTER COLUMN facts SET NOT NULL, ALTER COLUMN "announcementId" SET NOT NULL, DROP COLUMN message;

-- CreateTable
CREATE TABLE "Comment" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "subjectType" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "birdId" UUID,
    "field" TEXT,
    "authorId" UUID NOT NULL,
    "text" TEXT,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "editedAt" TIMESTAMPTZ(3),
    "withdrawnAt" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Comment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Follow" (
    "personId" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "subjectType" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "stoppedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Follow_pkey" PRIMARY KEY ("personId","subjectType","subjectId")
);

-- CreateTable
CREATE TABLE "NoticePreference" (
    "personId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "inApp" BOOLEAN NOT NULL,
    "mail" TEXT NOT NULL,

    CONSTRAINT "NoticePreference_pkey" PRIMARY KEY ("personId","kind")
);

-- CreateIndex
CREATE INDEX "Comment_subjectType_subjectId_createdAt_idx" ON "Comment"("subjectType", "subjectId", "createdAt");

-- CreateIndex
CREATE INDEX "Comment_birdId_createdAt_idx" ON "Comment"("birdId", "createdAt");

-- CreateIndex
CREATE INDEX "Comment_authorId_idx" ON "Comment"("authorId");

-- CreateIndex
CREATE INDEX "Follow_subjectType_subjectId_idx" ON "Follow"("subjectType", "subjectId");

-- CreateIndex
CREATE INDEX "Notice_personId_collectionId_createdAt_idx" ON "Notice"("personId", "collectionId", "createdAt");

-- CreateIndex
CREATE INDEX "Notice_personId_collectionId_readAt_idx" ON "Notice"("personId", "collectionId", "readAt");

-- CreateIndex
CREATE INDEX "Notice_mail_mailedAt_idx" ON "Notice"("mail", "mailedAt");

-- CreateIndex
CREATE UNIQUE INDEX "Notice_announcementId_personId_key" ON "Notice"("announcementId", "personId");

-- ---------------------------------------------------------------- what must never be false
ALTER TABLE "Comment"
  ADD CONSTRAINT comment_subject CHECK ("subjectType" IN ('bird', 'salvage', 'bench-record', 'accession', 'permit', 'loan',
    'material')),
  ADD CONSTRAINT comment_text CHECK (char_length(text) BETWEEN 1 AND 4000),
  ADD CONSTRAINT comment_field CHECK (char_length(field) BETWEEN 1 AND 60),
  ADD CONSTRAINT comment_withdrawn_is_silent CHECK ((text IS NULL) = ("withdrawnAt" IS NOT NULL)),
  ADD CONSTRAINT comment_edited_later CHECK ("editedAt" >= "createdAt" AND "withdrawnAt" >= "createdAt");
ALTER TABLE "Follow"
  ADD CONSTRAINT follow_subject CHECK ("subjectType" IN ('bird', 'salvage', 'bench-record', 'accession', 'permit', 'loan',
    'material'));
ALTER TABLE "Notice"
  ADD CONSTRAINT notice_kind CHECK (kind IN ('notices.mentioned', 'notices.commented', 'bench.returned', 'catalogue.approved',
    'queue.assigned', 'queue.claim-ending', 'queue.claim-ran-out', 'loans.due-soon', 'loans.overdue', 'permits.expiring',
    'permits.report-due', 'salvage.hold-placed')),
  ADD CONSTRAINT notice_subject CHECK ("subjectType" IN ('bird', 'salvage', 'bench-record', 'accession', 'permit', 'loan',
    'material')),
  ADD CONSTRAINT notice_facts CHECK (jsonb_typeof(facts) = 'object' AND char_length(facts::text) <= 2000),
  ADD CONSTRAINT notice_mail CHECK (mail IN ('none', 'at-once', 'daily')),
  ADD CONSTRAINT notice_mailed_where_wished CHECK (mail <> 'none' OR "mailedAt" IS NULL),
  ADD CONSTRAINT notice_claim CHECK (("mailClaim" IS NULL) = ("mailClaimedAt" IS NULL));
ALTER TABLE "NoticePreference"
  ADD CONSTRAINT notice_preference_kind CHECK (kind IN ('notices.mentioned', 'notices.commented', 'bench.returned',
    'catalogue.approved', 'queue.assigned', 'queue.claim-ending', 'queue.claim-ran-out', 'loans.due-soon', 'loans.overdue',
    'permits.expiring', 'permits.report-due', 'salvage.hold-placed')),
  ADD CONSTRAINT notice_preference_mail CHECK (mail IN ('off', 'at-once', 'daily'));
