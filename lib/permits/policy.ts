import { may, type Role } from '@/lib/platform/permissions';

type Asker = { personId: string | null; roles: readonly Role[] };

/** What a person may do with permits and what the law says here. */
export const permitAbilitiesOf = (actor: Asker) => ({
  manage: may(actor, 'permits.manage'),
  rule: may(actor, 'coverage.rule'),
});
