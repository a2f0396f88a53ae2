/**
 * Who may do what: the only source. Services ask it, the API answers 403 from it, pages hide what it forbids.
 * A grant is `any` (every record of the collection), `own` (records the person works on), `not-own` (separation of
 * duties) or `approved` (approved records only, exact places generalised).
 */
export const ROLES = [
  'volunteer',
  'preparator',
  'curator',
  'registrar',
  'permit-officer',
  'administrator',
  'visitor',
] as const;
export type Role = (typeof ROLES)[number];
export type Grant = 'any' | 'own' | 'not-own' | 'approved';

const STAFF = ['volunteer', 'preparator', 'curator', 'registrar', 'permit-officer'] as const;
const BENCH = ['preparator', 'curator'] as const;

const any = (...roles: readonly Role[]): Partial<Record<Role, Grant>> =>
  Object.fromEntries(roles.map((role) => [role, 'any' as const]));

export const PERMISSIONS = {
  'workspace.enter': any(...ROLES),

  'permits.see': any(...STAFF, 'administrator'),
  'permits.manage': any('permit-officer'),
  'coverage.see': any(...STAFF),
  'coverage.rule': any('permit-officer'),

  'salvage.see': any(...STAFF),
  'salvage.log': any(...STAFF),
  'salvage.change': { volunteer: 'own', ...any(...BENCH, 'registrar', 'permit-officer') },
  'salvage.triage': any(...BENCH, 'registrar', 'permit-officer'),
  'salvage.hold': any(...BENCH, 'registrar', 'permit-officer'),
  'salvage.hold-legal': any('permit-officer'),
  'salvage.slips': any('registrar', 'permit-officer', 'preparator'),
  'finder.see': any('registrar', 'permit-officer'),
  'finder.erase': any('registrar', 'permit-officer'),

  'accessions.see': any(...STAFF),
  'accessions.make': any('registrar'),

  'queue.see': any(...STAFF),
  'queue.claim': any('volunteer', ...BENCH),
  'queue.hand-over': { volunteer: 'own', preparator: 'any', curator: 'any' },
  'queue.prioritise': any(...BENCH),
  'queue.dispose': any(...BENCH, 'registrar', 'permit-officer'),
  'plan.see': any(...STAFF),
  'plan.make': any(...BENCH),
  'skills.sign': any(...BENCH),

  'bench.see': any(...STAFF),
  'bench.write': { volunteer: 'own', preparator: 'any', curator: 'any' },
  'bench.send': { volunteer: 'own', preparator: 'any', curator: 'any' },
  'bench.review': { curator: 'not-own' },
  'bench.manage': any(...BENCH),

  'tissues.see': any(...STAFF),
  'tissues.fill': { volunteer: 'own', preparator: 'any', curator: 'any', registrar: 'any' },
  'tissues.use': any(...BENCH, 'registrar'),
  'storage.see': any(...STAFF),
  'storage.move': { volunteer: 'own', preparator: 'any', curator: 'any', registrar: 'any' },
  'storage.manage': any(...BENCH, 'registrar'),
  'inventory.run': any(...BENCH, 'registrar'),

  'materials.see': any(...STAFF),
  'materials.advance': { volunteer: 'own', preparator: 'any', curator: 'any' },
  'materials.manage': any(...BENCH),

  'catalogue.see': { ...any(...STAFF, 'administrator'), visitor: 'approved' },
  'catalogue.amend': any('curator'),
  'catalogue.dispose': any('curator'),
  'numbers.see': any(...STAFF, 'administrator'),
  'place.exact': any(...BENCH, 'registrar', 'permit-officer'),

  'loans.see': any(...STAFF),
  'loans.ask': any('curator', 'registrar'),
  'loans.decide': { curator: 'not-own' },
  'loans.execute': any('registrar'),

  'reports.see': any(...STAFF),
  'reports.make': any('permit-officer'),
  'reports.sign': any('permit-officer'),

  'labels.print': any(...STAFF),
  'attachments.add': any(...STAFF),
  'attachments.see': { ...any(...STAFF), visitor: 'approved' },
  'attachments.remove': {
    volunteer: 'own',
    preparator: 'own',
    ...any('curator', 'registrar', 'permit-officer'),
  },
  'exports.make': any('curator', 'registrar', 'permit-officer', 'administrator'),
  'imports.run': any('registrar', 'curator'),
  'taxa.see': any(...ROLES),
  'taxa.manage': any('curator', 'registrar', 'permit-officer'),
  'places.see': any(...STAFF),
  'places.manage': any(...BENCH, 'registrar', 'permit-officer'),

  'notices.see': any(...STAFF, 'administrator'),
  'comments.see': any(...STAFF),
  'comments.write': any(...STAFF),
  'comments.change': {
    volunteer: 'own',
    preparator: 'own',
    curator: 'own',
    registrar: 'own',
    'permit-officer': 'own',
  },

  'audit.see': any(...STAFF, 'administrator'),
  'audit.verify': any('permit-officer', 'administrator'),
  'people.see': any(...STAFF, 'administrator'),
  'people.manage': any('administrator'),
  'tokens.manage': any('administrator'),
  'webhooks.manage': any('administrator'),
  'settings.manage': any('administrator'),
  'metrics.see': any('administrator'),
} as const satisfies Record<string, Partial<Record<Role, Grant>>>;

export type Permission = keyof typeof PERMISSIONS;

/** The grants that a set of roles has for a permission; empty when none. */
export function grantsOf(roles: readonly Role[], permission: Permission): Grant[] {
  const row: Partial<Record<Role, Grant>> = PERMISSIONS[permission];
  return roles.flatMap((role) => row[role] ?? []);
}

export type OwnershipFacts = {
  /** People whose own work the record is (preparator, claimant, asker). */
  ownerIds?: readonly (string | null | undefined)[];
  approved?: boolean;
};

/**
 * Whether a person with these roles may act on a record about which these facts are known. Where a token acts for the
 * person, its scopes narrow what the roles allow; they never widen it.
 */
export function may(
  actor: { personId: string | null; roles: readonly Role[]; scopes?: readonly string[] },
  permission: Permission,
  facts?: OwnershipFacts,
): boolean {
  if (actor.scopes !== undefined && !actor.scopes.includes(permission)) return false;
  return grantsOf(actor.roles, permission).some((grant) => {
    if (grant === 'any' || facts === undefined) return true;
    const owns = actor.personId !== null && (facts.ownerIds ?? []).includes(actor.personId);
    if (grant === 'own') return owns;
    if (grant === 'not-own') return !owns;
    return facts.approved === true;
  });
}
