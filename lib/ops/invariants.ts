/**
 * What must always be true of the database. Each statement returns the rows that break it: none, ever. `npm run verify`
 * runs them all; tests run them after random histories.
 */
export type Invariant = { id: string; says: string; sql: string };

export const INVARIANTS: readonly Invariant[] = [
  {
    id: 'bird-one-line',
    says: 'Each accepted salvage record is one bird, under the same number, in the same collection.',
    sql: `SELECT s.number FROM "SalvageRecord" s LEFT JOIN "Bird" b ON b."salvageId" = s.id
          WHERE (s.state = 'accepted') <> (b.id IS NOT NULL) OR b.number <> s.number OR b."collectionId" <> s."collectionId"`,
  },
  {
    id: 'carcass-once',
    says: 'Each bird has exactly one carcass.',
    sql: `SELECT b.number FROM "Bird" b LEFT JOIN "Material" m ON m."birdId" = b.id AND m.kind = 'carcass'
          GROUP BY b.id, b.number HAVING count(m.id) <> 1`,
  },
  {
    id: 'carcass-used-up',
    says: 'A prepared bird’s carcass is used up, and only what left or was prepared is off the shelf.',
    sql: `SELECT b.number, b.state, m.custody FROM "Bird" b JOIN "Material" m ON m."birdId" = b.id AND m.kind = 'carcass'
          WHERE (b.state = 'prepared') <> (m.custody = 'used-up')
             OR (b.state IN ('discarded', 'transferred', 'released')) <> (m.custody = 'deaccessioned')`,
  },
  {
    id: 'claim-has-person',
    says: 'A bird has a claimant exactly while it is taken; a prepared one keeps its preparator.',
    sql: `SELECT number, state FROM "Bird"
          WHERE "claimedById" IS NULL AND state IN ('claimed', 'thawing', 'on-the-bench')
             OR "claimedById" IS NOT NULL AND state IN ('in-custody', 'in-freezer', 'queued')`,
  },
  {
    id: 'accession-covered',
    says: 'Nothing is in an accession unless accepted, and covered or ruled on.',
    sql: `SELECT number, state, coverage FROM "SalvageRecord" WHERE "accessionId" IS NOT NULL
          AND (state <> 'accepted' OR (coverage <> 'covered' AND "coverageRuling" IS NULL))`,
  },
  {
    id: 'queue-accessioned',
    says: 'Only accessioned birds are queued, taken or prepared.',
    sql: `SELECT b.number FROM "Bird" b JOIN "SalvageRecord" s ON s.id = b."salvageId"
          WHERE b.state IN ('queued', 'claimed', 'thawing', 'on-the-bench', 'prepared') AND s."accessionId" IS NULL`,
  },
  {
    id: 'one-place',
    says: 'What is away from the shelf has no place on it.',
    sql: `SELECT m.id, m.custody FROM "Material" m JOIN "Placement" p ON p."materialId" = m.id WHERE m.custody <> 'on-shelf'`,
  },
  {
    id: 'loan-custody',
    says: 'A material is on loan exactly while a loan line of it is out.',
    sql: `SELECT m.id FROM "Material" m WHERE (m.custody = 'on-loan') <> EXISTS (
            SELECT 1 FROM "LoanLine" l WHERE l."materialId" = m.id AND l."sentAt" IS NOT NULL AND l.outcome IS NULL)`,
  },
  {
    id: 'loan-balance',
    says: 'A closed loan has nothing out; an open one has.',
    sql: `SELECT l.number FROM "Loan" l WHERE l.state = 'closed' AND EXISTS (
            SELECT 1 FROM "LoanLine" n WHERE n."loanId" = l.id AND n."sentAt" IS NOT NULL AND n.outcome IS NULL)`,
  },
  {
    id: 'loan-links',
    says: 'What was asked for through a link is a loan of the collection that made the link.',
    sql: `SELECT k.id FROM "LoanLink" k JOIN "Loan" l ON l.id = k."loanId"
          WHERE l."collectionId" <> k."collectionId"`,
  },
  {
    id: 'bone-balance',
    says: 'Every bone of a catalogued bird is somewhere or recorded as missing, or the difference is explained.',
    sql: `SELECT b.number, e.element, e.side FROM "BoneEntry" e JOIN "Bird" b ON b.id = e."birdId"
          JOIN "CatalogueEntry" c ON c."birdId" = b.id JOIN "BenchRecord" r ON r."birdId" = b.id
          WHERE e.state <> 'missing' AND e.place IS NULL AND r."boneExplanation" IS NULL`,
  },
  {
    id: 'approved-catalogued',
    says: 'A bench record is approved exactly when its bird has a catalogue number, given by somebody else.',
    sql: `SELECT r."prepNumber" FROM "BenchRecord" r LEFT JOIN "CatalogueEntry" c ON c."birdId" = r."birdId"
          WHERE (r.state = 'approved') <> (c.id IS NOT NULL) OR c."approvedById" = r."preparatorId"`,
  },
  {
    id: 'bench-snapshot',
    says: 'A bench record shows exactly the entries that nothing superseded.',
    sql: `SELECT r."prepNumber" FROM "BenchRecord" r LEFT JOIN "BenchEntry" e ON e."recordId" = r.id AND e."supersededAt" IS NULL
          GROUP BY r.id, r."prepNumber", r.values
          HAVING (SELECT count(*) FROM jsonb_object_keys(r.values)) <> count(e.id)`,
  },
  {
    id: 'vial-amount',
    says: 'What was used of a vial and what is left make what was filled.',
    sql: `SELECT v.code FROM "Vial" v JOIN (SELECT "vialId", sum(amount) AS used FROM "VialUse" GROUP BY "vialId") u
            ON u."vialId" = v."materialId" WHERE abs(v.amount - v."amountLeft" - u.used) > 1e-6 * v.amount`,
  },
  {
    id: 'audit-complete',
    says: 'Each chain is as long as its head says.',
    sql: `SELECT h."collectionId" FROM "AuditHead" h WHERE h.seq <> (
            SELECT count(*) FROM "AuditEvent" e WHERE e."collectionId" = h."collectionId")`,
  },
  {
    id: 'numbers-consecutive',
    says: 'No catalogue or accession number was given beyond its sequence.',
    sql: `SELECT c.id FROM "Collection" c JOIN "NumberSequence" n ON n."collectionId" = c.id AND n.kind = 'catalogue' AND n.scope = ''
          WHERE n.next - 1 <> (SELECT count(*) FROM "CatalogueEntry" e WHERE e."collectionId" = c.id)`,
  },
  {
    id: 'report-frozen',
    says: 'A period of a permit has at most one signed edition in force.',
    sql: `SELECT "permitId", "fromOn" FROM "PermitReport" WHERE state = 'signed' GROUP BY "permitId", "fromOn", "toOn" HAVING count(*) > 1`,
  },
];
