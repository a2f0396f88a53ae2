import type { Permission } from '@/lib/platform/permissions';
import type { LoanAct } from './rules';

/** The right that each act of a loan needs. */
export const ACT_PERMISSION: Record<LoanAct, Permission> = {
  'take-into-review': 'loans.decide',
  grant: 'loans.decide',
  decline: 'loans.decide',
  withdraw: 'loans.ask',
  pack: 'loans.execute',
  unpack: 'loans.execute',
  send: 'loans.execute',
  'confirm-receipt': 'loans.execute',
  'take-back': 'loans.execute',
  extend: 'loans.execute',
  close: 'loans.execute',
};

/** Acts that one's own request is kept from: another curator decides. */
export const isDecision = (act: LoanAct): boolean => act === 'grant' || act === 'decline';
