-- Scanned permits and papers of an accession are files like others.
ALTER TABLE "Attachment"
  DROP CONSTRAINT attachment_subject,
  ADD CONSTRAINT attachment_subject
    CHECK ("subjectType" IN ('permit', 'bird', 'salvage', 'accession', 'loan', 'loan-line'));
