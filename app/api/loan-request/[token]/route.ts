import { loanLinkUse } from '@/lib/loans/link-schema';
import { askByLink } from '@/lib/loans/service/links';
import { definePublicForm } from '@/lib/platform/public-form';

/** An outside borrower's request. No account: a one-purpose link lets in this one request, then tells its state. */
export const POST = definePublicForm({
  name: 'loan-request',
  what: 'This link',
  body: loanLinkUse,
  otherwise: 'or write to the institution.',
  service: askByLink,
});
