import { askLoanRequest } from '@/lib/loans/schema';
import { askLoan, listLoans } from '@/lib/loans/service/ask';
import { loanListQuery, loanPage, loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'loans.see',
  query: loanListQuery,
  response: loanPage,
  service: ({ actor, query }) => listLoans(actor, query),
});

export const POST = defineRoute({
  permission: 'loans.ask',
  body: askLoanRequest,
  response: loanRecord,
  service: ({ context, body }) => askLoan(context, body),
});
