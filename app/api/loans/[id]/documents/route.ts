import { documentsRequest } from '@/lib/loans/schema';
import { setDocuments } from '@/lib/loans/service/acts';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.execute',
  params: idParams,
  body: documentsRequest,
  response: loanRecord,
  service: ({ context, params, body }) => setDocuments(context, params.id, body),
});
