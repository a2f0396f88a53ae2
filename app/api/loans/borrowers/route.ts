import { borrowerRequest } from '@/lib/loans/schema';
import { addBorrower, listBorrowers } from '@/lib/loans/service/ask';
import { borrower, borrowers } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'loans.see',
  response: borrowers,
  service: ({ actor }) => listBorrowers(actor),
});

export const POST = defineRoute({
  permission: 'loans.ask',
  body: borrowerRequest,
  response: borrower,
  service: ({ context, body }) => addBorrower(context, body),
});
