-- AlterTable
ALTER TABLE "Person" ADD COLUMN     "erasedAt" TIMESTAMPTZ(3);

-- What was erased does not come back by a later write.
ALTER TABLE "Person" ADD CONSTRAINT "Person_erased_check" CHECK (
  "erasedAt" IS NULL
  OR (NOT active AND "passwordDigest" IS NULL AND "lastSignInAt" IS NULL AND email::text LIKE 'erased-%@erased.invalid')
);
