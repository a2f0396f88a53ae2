import { loanAct } from '@/lib/loans/schema';
import { unpackLoan } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: loanAct,
  response: loanRecord,
  service: ({ context, params, body }) => unpackLoan(context, params.id, body),
});
