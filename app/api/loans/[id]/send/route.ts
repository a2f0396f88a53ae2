import { sendRequest } from '@/lib/loans/schema';
import { sendLoan } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: sendRequest,
  response: loanRecord,
  service: ({ context, params, body }) => sendLoan(context, params.id, body),
});
