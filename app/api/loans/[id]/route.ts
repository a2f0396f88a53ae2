import { showLoan } from '@/lib/loans/service/ask';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'loans.see',
  params: idParams,
  response: loanRecord,
  service: ({ actor, params }) => showLoan(actor, params.id),
});
