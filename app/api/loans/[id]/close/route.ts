import { loanAct } from '@/lib/loans/schema';
import { closeLoan } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: loanAct,
  response: loanRecord,
  service: ({ context, params, body }) => closeLoan(context, params.id, body),
});
