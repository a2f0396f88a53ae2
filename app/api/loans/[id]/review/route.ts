import { loanAct } from '@/lib/loans/schema';
import { takeIntoReview } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.decide',
  params: idParams,
  body: loanAct,
  response: loanRecord,
  service: ({ context, params, body }) => takeIntoReview(context, params.id, body),
});
