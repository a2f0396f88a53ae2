-- The digest of an event joins its columns with chr(31): with one inside a text, words could change their column under
-- the same digest. The payload is JSON, which writes it as an escape.
ALTER TABLE "AuditEvent" ADD CONSTRAINT audit_no_separator CHECK (
  strpos(concat("actorName", "subjectType", kind, reason, "requestId"), chr(31)) = 0);
