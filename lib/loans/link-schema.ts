import { z } from 'zod';
import { pageOf } from '@/lib/platform/paging';
import { borrowerRequest, LINK_STATES, loanKindSchema, loanStateSchema } from './schema';

/** An outside borrower's link: what is asked of it and answered. */
export const loanLinkRequest = z.object({
  label: z.string().trim().min(1, 'Say for whom it is.').max(200),
  validDays: z.int().min(1).max(90).default(30),
});
export type LoanLinkRequest = z.output<typeof loanLinkRequest>;

export const loanLinkRow = z.object({
  id: z.uuid(),
  label: z.string(),
  madeBy: z.string(),
  createdAt: z.string(),
  expiresAt: z.string(),
  state: z.enum(LINK_STATES),
  loan: z.object({ id: z.uuid(), number: z.string() }).nullable(),
});
export type LoanLinkRow = z.infer<typeof loanLinkRow>;
export const loanLinkPage = pageOf(loanLinkRow);
/** `path` is the address to send on: shown once, kept nowhere. */
export const loanLinkMade = loanLinkRow.extend({ path: z.string() });

/** What somebody without an account sends. */
export const loanLinkUse = borrowerRequest.pick({ institution: true, contact: true, country: true }).extend({
  /** Repeated deliveries of one request carry the same key. */
  requestKey: z.uuid(),
  email: z.email('We need an e-mail address for the answer.').max(300),
  kind: loanKindSchema.default('loan'),
  purpose: z.string().trim().min(10, 'Say what the material is for, in a sentence.').max(4000),
  /** Catalogue numbers or other words for what is wanted, as the borrower writes them. */
  wanted: z
    .array(z.string().trim().min(1).max(120, 'One number a line, please.'))
    .min(1, 'Write what you would like to borrow, a number a line.')
    .max(100, 'At most 100 lines.'),
});
export type LoanLinkUse = z.output<typeof loanLinkUse>;

/** All that the link shows once the request is sent. */
export const loanLinkState = z.object({ state: loanStateSchema });
export type LoanLinkState = z.infer<typeof loanLinkState>;
