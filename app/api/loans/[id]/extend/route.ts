import { extendRequest } from '@/lib/loans/schema';
import { extendLoan } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: extendRequest,
  response: loanRecord,
  service: ({ context, params, body }) => extendLoan(context, params.id, body),
});
