import { receiveRequest } from '@/lib/loans/schema';
import { confirmReceipt } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: receiveRequest,
  response: loanRecord,
  service: ({ context, params, body }) => confirmReceipt(context, params.id, body),
});
