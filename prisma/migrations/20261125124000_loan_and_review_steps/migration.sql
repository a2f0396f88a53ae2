-- The steps of lib/loans/rules.ts (LOAN_TRANSITIONS) and lib/catalogue/rules.ts (REVIEW_TRANSITIONS): no other is
-- taken, whoever writes. A test tries every pair of states against both tables.
CREATE FUNCTION loan_takes_known_steps() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (OLD.state, NEW.state) NOT IN (
      ('asked', 'in-review'), ('in-review', 'granted'), ('in-review', 'declined'),
      ('asked', 'closed'), ('in-review', 'closed'), ('granted', 'closed'),
      ('granted', 'packed'), ('packed', 'granted'), ('packed', 'sent'), ('sent', 'received'),
      ('sent', 'partly-back'), ('received', 'partly-back'),
      ('sent', 'closed'), ('received', 'closed'), ('partly-back', 'closed')) THEN
    RAISE EXCEPTION 'FURCULA: A loan does not go from % to %.', OLD.state, NEW.state USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER loan_takes_known_steps BEFORE UPDATE OF state ON "Loan"
  FOR EACH ROW WHEN (OLD.state IS DISTINCT FROM NEW.state) EXECUTE FUNCTION loan_takes_known_steps();

CREATE FUNCTION review_takes_known_steps() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (OLD.state, NEW.state) NOT IN (('draft', 'in-review'), ('returned', 'in-review'), ('in-review', 'draft'),
      ('in-review', 'returned'), ('in-review', 'approved')) THEN
    RAISE EXCEPTION 'FURCULA: A bench record does not go from % to %.', OLD.state, NEW.state USING ERRCODE = 'FU001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER review_takes_known_steps BEFORE UPDATE OF state ON "BenchRecord"
  FOR EACH ROW WHEN (OLD.state IS DISTINCT FROM NEW.state) EXECUTE FUNCTION review_takes_known_steps();

-- Balance zero at the end: asked when the transaction ends, in whatever order its lines were settled.
CREATE FUNCTION closed_loan_has_nothing_out() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "LoanLine" WHERE "loanId" = NEW.id AND "sentAt" IS NOT NULL AND outcome IS NULL) THEN
    RAISE EXCEPTION 'FURCULA: A loan closes when nothing of it is out any more.' USING ERRCODE = 'FU001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER closed_loan_has_nothing_out AFTER INSERT OR UPDATE OF state ON "Loan"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.state = 'closed') EXECUTE FUNCTION closed_loan_has_nothing_out();
