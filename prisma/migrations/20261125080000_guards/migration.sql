-- What must never be false, said by the database itself. Errors of our own carry SQLSTATE FU001 and begin with
-- "FURCULA: " so that the application can show the sentence.

-- ---------------------------------------------------------------- state names
ALTER TABLE "SalvageRecord"
  ADD CONSTRAINT salvage_state CHECK (state IN ('reported', 'in-triage', 'accepted', 'declined', 'on-hold')),
  ADD CONSTRAINT salvage_specimen_type CHECK ("specimenType" IN ('whole-bird', 'part', 'feathers', 'nest', 'egg')),
  ADD CONSTRAINT salvage_quantity CHECK (quantity > 0),
  ADD CONSTRAINT salvage_dates CHECK ("foundFrom" <= "foundTo"),
  ADD CONSTRAINT salvage_latitude CHECK (latitude BETWEEN -90 AND 90),
  ADD CONSTRAINT salvage_longitude CHECK (longitude BETWEEN -180 AND 180),
  ADD CONSTRAINT salvage_coordinates CHECK ((latitude IS NULL) = (longitude IS NULL)),
  ADD CONSTRAINT salvage_uncertainty CHECK ("uncertaintyM" > 0),
  ADD CONSTRAINT salvage_coverage CHECK (coverage IN ('unchecked', 'covered', 'needs-attention', 'not-covered'));

ALTER TABLE "Bird"
  ADD CONSTRAINT bird_state CHECK (state IN ('in-custody', 'in-freezer', 'queued', 'claimed', 'thawing', 'on-the-bench',
    'prepared', 'discarded', 'transferred', 'released')),
  ADD CONSTRAINT bird_sex CHECK (sex IN ('female', 'male', 'undetermined')),
  ADD CONSTRAINT bird_claim CHECK (state NOT IN ('claimed', 'thawing', 'on-the-bench') OR "claimedById" IS NOT NULL);

ALTER TABLE "BenchRecord"
  ADD CONSTRAINT bench_state CHECK (state IN ('draft', 'in-review', 'returned', 'approved'));

ALTER TABLE "Material"
  ADD CONSTRAINT material_kind CHECK (kind IN ('carcass', 'skin', 'skeleton', 'vial', 'wing', 'flat-skin', 'fluid',
    'stomach', 'other')),
  ADD CONSTRAINT material_custody CHECK (custody IN ('on-shelf', 'on-loan', 'missing', 'deaccessioned', 'used-up')),
  ADD CONSTRAINT material_state CHECK (CASE kind
    WHEN 'skin' THEN state IN ('pinned', 'drying', 'dry', 'pest-freeze', 'shelved')
    WHEN 'skeleton' THEN state IN ('rough-cleaned', 'cleaning', 'dry', 'pest-freeze', 'counted', 'shelved')
    WHEN 'vial' THEN state IN ('filled', 'stored', 'partly-used', 'used-up', 'lost')
    ELSE true END);

ALTER TABLE "Loan"
  ADD CONSTRAINT loan_state CHECK (state IN ('asked', 'in-review', 'granted', 'declined', 'packed', 'sent', 'received',
    'partly-back', 'closed'));
ALTER TABLE "LoanLine"
  ADD CONSTRAINT loan_line_outcome CHECK (outcome IN ('returned', 'consumed', 'lost')),
  ADD CONSTRAINT loan_line_sent_first CHECK (outcome IS NULL OR "sentAt" IS NOT NULL);
ALTER TABLE "PermitReport"
  ADD CONSTRAINT report_state CHECK (state IN ('open', 'ready', 'signed', 'amended')),
  ADD CONSTRAINT report_period CHECK ("fromOn" <= "toOn"),
  ADD CONSTRAINT report_signed CHECK (state NOT IN ('signed', 'amended')
    OR (frozen IS NOT NULL AND digest IS NOT NULL AND "signedById" IS NOT NULL));
ALTER TABLE "Permit"
  ADD CONSTRAINT permit_dates CHECK ("effectiveOn" <= "expiresOn");
ALTER TABLE "Membership"
  ADD CONSTRAINT membership_role CHECK (role IN ('volunteer', 'preparator', 'curator', 'registrar', 'permit-officer',
    'administrator', 'visitor'));
ALTER TABLE "Vial"
  ADD CONSTRAINT vial_amount CHECK (amount > 0 AND "amountLeft" >= 0 AND "amountLeft" <= amount),
  ADD CONSTRAINT vial_thaws CHECK ("thawCount" >= 0);
ALTER TABLE "VialUse" ADD CONSTRAINT vial_use_amount CHECK (amount > 0);
ALTER TABLE "StorageUnit"
  ADD CONSTRAINT unit_kind CHECK (kind IN ('site', 'room', 'freezer', 'cabinet', 'rack', 'drawer', 'shelf', 'box')),
  ADD CONSTRAINT unit_grid CHECK ((rows IS NULL) = (columns IS NULL) AND rows > 0 AND columns > 0),
  ADD CONSTRAINT unit_capacity CHECK (capacity > 0),
  ADD CONSTRAINT unit_not_own_parent CHECK ("parentId" <> id);
ALTER TABLE "BoneEntry"
  ADD CONSTRAINT bone_side CHECK (side IN ('left', 'right', 'unpaired')),
  ADD CONSTRAINT bone_portion CHECK (portion IN ('whole', 'proximal', 'distal')),
  ADD CONSTRAINT bone_state CHECK (state IN ('whole', 'broken', 'missing')),
  ADD CONSTRAINT bone_place CHECK (place IN ('skin', 'skeleton', 'wing', 'fluid', 'other', 'discarded', 'lost', 'consumed'));

-- ---------------------------------------------------------------- nothing twice
-- A bone's whole and its ends are one stretch: [0,2) whole, [0,1) proximal, [1,2) distal; no two may overlap.
ALTER TABLE "BoneEntry" ADD CONSTRAINT bone_once EXCLUDE USING gist (
  "birdId" WITH =, element WITH =, side WITH =,
  (CASE portion WHEN 'whole' THEN int4range(0, 2) WHEN 'proximal' THEN int4range(0, 1) ELSE int4range(1, 2) END) WITH &&
) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX bench_entry_current ON "BenchEntry" ("recordId", field) WHERE "supersededAt" IS NULL;
CREATE UNIQUE INDEX loan_line_out ON "LoanLine" ("materialId") WHERE "sentAt" IS NOT NULL AND outcome IS NULL;
CREATE UNIQUE INDEX determination_current ON "Determination" ("birdId") WHERE current;
CREATE UNIQUE INDEX checklist_current ON "Checklist" (current) WHERE current;
CREATE UNIQUE INDEX process_step_open ON "ProcessStep" ("materialId") WHERE "endedAt" IS NULL;

-- ---------------------------------------------------------------- search by part of a name or number
CREATE INDEX taxon_name_trgm ON "Taxon" USING gin ("scientificName" gin_trgm_ops);
CREATE INDEX taxon_common_trgm ON "Taxon" USING gin ("commonName" gin_trgm_ops);
CREATE INDEX bird_number_trgm ON "Bird" USING gin (number gin_trgm_ops);

CREATE TABLE rate_limit (
  key text PRIMARY KEY,
  points integer NOT NULL DEFAULT 0,
  expire bigint
);

-- ---------------------------------------------------------------- a material is in one place
CREATE FUNCTION placement_needs_shelf() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE kept text;
BEGIN
  SELECT custody INTO kept FROM "Material" WHERE id = NEW."materialId" FOR SHARE;
  IF kept <> 'on-shelf' THEN
    RAISE EXCEPTION 'FURCULA: This material is % and cannot be put on a shelf until that ends.', replace(kept, '-', ' ')
      USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER placement_needs_shelf BEFORE INSERT OR UPDATE ON "Placement"
  FOR EACH ROW EXECUTE FUNCTION placement_needs_shelf();

CREATE FUNCTION away_has_no_place() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.custody <> 'on-shelf' AND EXISTS (SELECT 1 FROM "Placement" WHERE "materialId" = NEW.id) THEN
    RAISE EXCEPTION 'FURCULA: This material still has a place on a shelf; take it off first.' USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE CONSTRAINT TRIGGER away_has_no_place AFTER UPDATE OF custody ON "Material" DEFERRABLE INITIALLY DEFERRED
  FOR EACH ROW EXECUTE FUNCTION away_has_no_place();

-- ---------------------------------------------------------------- what is locked stays locked
CREATE FUNCTION approved_record_is_locked() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE record_state text;
BEGIN
  SELECT state INTO record_state FROM "BenchRecord" WHERE id = COALESCE(NEW."recordId", OLD."recordId");
  IF record_state = 'approved' THEN
    RAISE EXCEPTION 'FURCULA: This record is approved and locked; make an amendment with a reason.' USING ERRCODE = 'FU001';
  END IF;
  RETURN COALESCE(NEW, OLD);
END $$;
CREATE TRIGGER approved_record_is_locked BEFORE INSERT OR UPDATE OR DELETE ON "BenchEntry"
  FOR EACH ROW EXECUTE FUNCTION approved_record_is_locked();

CREATE FUNCTION signed_report_is_frozen() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.state IN ('signed', 'amended') AND (TG_OP = 'DELETE'
      OR NEW.frozen IS DISTINCT FROM OLD.frozen OR NEW.digest IS DISTINCT FROM OLD.digest
      OR NEW."signedById" IS DISTINCT FROM OLD."signedById" OR NEW."signedAt" IS DISTINCT FROM OLD."signedAt"
      OR NEW.explanations IS DISTINCT FROM OLD.explanations OR NEW.state NOT IN ('signed', 'amended')
      OR (OLD.state = 'amended' AND NEW.state <> 'amended')) THEN
    RAISE EXCEPTION 'FURCULA: A signed report is frozen; make an amended report with a reason.' USING ERRCODE = 'FU001';
  END IF;
  RETURN COALESCE(NEW, OLD);
END $$;
CREATE TRIGGER signed_report_is_frozen BEFORE UPDATE OR DELETE ON "PermitReport"
  FOR EACH ROW EXECUTE FUNCTION signed_report_is_frozen();

-- Separation of duties, also here: the approver is not the preparator.
CREATE FUNCTION nobody_approves_their_own() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "BenchRecord" WHERE "birdId" = NEW."birdId" AND "preparatorId" = NEW."approvedById") THEN
    RAISE EXCEPTION 'FURCULA: Nobody approves a bench record of their own; ask another curator.' USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER nobody_approves_their_own BEFORE INSERT OR UPDATE ON "CatalogueEntry"
  FOR EACH ROW EXECUTE FUNCTION nobody_approves_their_own();

-- ---------------------------------------------------------------- the audit chain
CREATE FUNCTION audit_text(e "AuditEvent") RETURNS text LANGUAGE sql IMMUTABLE AS $$
  SELECT array_to_string(ARRAY[
    e.seq::text, e."collectionId"::text, to_char(e.at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
    COALESCE(e."actorId"::text, ''), e."actorName", COALESCE(e."birdId"::text, ''), e."subjectType",
    e."subjectId"::text, e.kind, e.payload::text, COALESCE(e.reason, ''), COALESCE(e."requestId", ''),
    e."previousDigest"], chr(31))
$$;

CREATE FUNCTION audit_append() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE head "AuditHead"%ROWTYPE;
BEGIN
  SELECT * INTO head FROM "AuditHead" WHERE "collectionId" = NEW."collectionId" FOR UPDATE;
  IF NOT FOUND THEN
    INSERT INTO "AuditHead" VALUES (NEW."collectionId", 0, '') ON CONFLICT DO NOTHING;
    SELECT * INTO head FROM "AuditHead" WHERE "collectionId" = NEW."collectionId" FOR UPDATE;
  END IF;
  NEW.seq := head.seq + 1;
  NEW."previousDigest" := head.digest;
  NEW.digest := encode(sha256(convert_to(audit_text(NEW), 'UTF8')), 'hex');
  UPDATE "AuditHead" SET seq = NEW.seq, digest = NEW.digest WHERE "collectionId" = NEW."collectionId";
  -- Heard by live pages when the transaction commits; ids only, well under NOTIFY's 8 kB.
  PERFORM pg_notify('furcula', json_build_object('collectionId', NEW."collectionId", 'seq', NEW.seq, 'kind', NEW.kind,
    'subjectType', NEW."subjectType", 'subjectId', NEW."subjectId", 'birdId', NEW."birdId", 'actorId', NEW."actorId")::text);
  RETURN NEW;
END $$;
CREATE TRIGGER audit_append BEFORE INSERT ON "AuditEvent" FOR EACH ROW EXECUTE FUNCTION audit_append();

CREATE FUNCTION audit_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'FURCULA: The audit trail is append-only.' USING ERRCODE = 'FU001';
END $$;
CREATE TRIGGER audit_no_change BEFORE UPDATE OR DELETE ON "AuditEvent" FOR EACH ROW EXECUTE FUNCTION audit_is_append_only();
CREATE TRIGGER audit_no_truncate BEFORE TRUNCATE ON "AuditEvent" FOR EACH STATEMENT EXECUTE FUNCTION audit_is_append_only();
CREATE TRIGGER audit_head_stays BEFORE DELETE ON "AuditHead" FOR EACH ROW EXECUTE FUNCTION audit_is_append_only();
CREATE FUNCTION audit_head_moves_by_append() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF pg_trigger_depth() < 2 THEN
    RAISE EXCEPTION 'FURCULA: The audit trail is append-only.' USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER audit_head_moves_by_append BEFORE UPDATE ON "AuditHead"
  FOR EACH ROW EXECUTE FUNCTION audit_head_moves_by_append();
