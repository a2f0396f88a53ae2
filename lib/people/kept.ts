/** A column (or an expression over its table's row) that holds a person's id. */
export type PersonColumn = { table: string; holds: string };

/**
 * Of a person for their own sake: sign-in data, wishes, what they were told. It is handed out whole (but for secrets) on
 * request and goes with an erasure.
 */
export const OWN_DATA: readonly (PersonColumn & { only?: string })[] = [
  { table: 'SecondFactor', holds: '"personId"' },
  { table: 'RecoveryCode', holds: '"personId"' },
  { table: 'SignInSession', holds: '"personId"' },
  { table: 'AccessLink', holds: '"personId"' },
  { table: 'ApiToken', holds: '"personId"' },
  { table: 'IdempotencyKey', holds: '"personId"' },
  { table: 'Notice', holds: '"personId"' },
  { table: 'NoticePreference', holds: '"personId"' },
  { table: 'Follow', holds: '"personId"' },
  // A view that was given to everybody is no longer one person's wish.
  { table: 'SavedView', holds: '"personId"', only: 'NOT shared' },
];

/** Columns of those tables that are handed to nobody: digests, keys, and answers kept for repeated requests. */
export const SECRET_COLUMNS = [
  'secret',
  'digest',
  'tokenDigest',
  'lastStep',
  'payload',
  'body',
  'bodyDigest',
  'mailClaim',
] as const;

/** Who may do what, by whose signature: part of the record of the work, also after an erasure. */
export const STANDING: readonly PersonColumn[] = [
  { table: 'Membership', holds: '"personId"' },
  { table: 'PersonSkill', holds: '"personId"' },
];

const inTables = (tables: Record<string, string>): PersonColumn[] =>
  Object.entries(tables).flatMap(([table, columns]) =>
    columns.split(' ').map((column) => ({ table, holds: `"${column}"` })),
  );

/** Where a person stands as the one who did it: the legal record, which an erasure leaves as it is. */
export const WORK: readonly PersonColumn[] = [
  ...inTables({
    Accession: 'createdById',
    Amendment: 'amendedById',
    Attachment: 'uploadedById',
    BenchEntry: 'enteredById',
    BenchRecord: 'preparatorId',
    BenchStyle: 'savedById',
    Bird: 'claimedById requestedById',
    BoneQuestion: 'answeredById',
    BoxCount: 'countedById',
    CatalogueEntry: 'approvedById',
    CatalogueIndex: 'preparatorId',
    Checklist: 'importedById',
    Comment: 'authorId',
    CustodyEvent: 'recordedBy',
    DayPlan: 'createdById',
    Deaccession: 'recordedById',
    DropOffSlip: 'createdById revokedById',
    HandedInFile: 'handedInById',
    Hold: 'placedBy liftedBy',
    ImportRun: 'startedById',
    InventoryScan: 'scannedById',
    InventorySession: 'startedById closedById',
    Loan: 'askedById decidedById',
    LoanLink: 'createdById revokedById',
    MaterialMove: 'movedById',
    Permit: 'holderPersonId',
    PermitAmendment: 'amendedBy',
    PermitReport: 'createdById signedById',
    PersonSkill: 'signedOffBy',
    Placement: 'placedById',
    ProcessStep: 'byId',
    ReferenceTable: 'loadedById',
    RulePack: 'loadedById',
    SalvageRecord: 'loggedById',
    StatusDecision: 'decidedById withdrawnById',
    StatusList: 'loadedById',
    TemperatureLog: 'loadedById',
    Vial: 'filledById',
    VialThaw: 'countedById',
    VialUse: 'usedById',
    Webhook: 'createdById',
  }),
  // Found by one of us: the law asks for the finder's name.
  { table: 'SalvageRecord', holds: `(facts->>'finderPersonId')::uuid` },
];
