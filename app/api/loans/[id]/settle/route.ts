import { settleRequest } from '@/lib/loans/schema';
import { settleLoan } from '@/lib/loans/service/settle';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: settleRequest,
  response: loanRecord,
  service: ({ context, params, body }) => settleLoan(context, params.id, body),
});
