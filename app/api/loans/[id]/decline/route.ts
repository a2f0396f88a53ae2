import { declineRequest } from '@/lib/loans/schema';
import { declineLoan } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.decide',
  params: idParams,
  body: declineRequest,
  response: loanRecord,
  service: ({ context, params, body }) => declineLoan(context, params.id, body),
});
