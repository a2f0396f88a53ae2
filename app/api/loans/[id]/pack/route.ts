import { packRequest } from '@/lib/loans/schema';
import { packLoan } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: packRequest,
  response: loanRecord,
  service: ({ context, params, body }) => packLoan(context, params.id, body),
});
