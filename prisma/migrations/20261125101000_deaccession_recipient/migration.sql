-- To whom it went and who saw it destroyed: what the salvage report asks of a bird that left.
ALTER TABLE "Deaccession" ADD COLUMN "recipient" TEXT,
ADD COLUMN "recipientAuthority" TEXT,
ADD COLUMN "witness" TEXT;
UPDATE "Deaccession" SET recipient = 'not noted' WHERE method IN ('transferred', 'exchanged', 'repatriated');
ALTER TABLE "Deaccession" ADD CONSTRAINT deaccession_recipient
  CHECK (method NOT IN ('transferred', 'exchanged', 'repatriated') OR recipient IS NOT NULL);
