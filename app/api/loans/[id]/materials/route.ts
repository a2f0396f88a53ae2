import { chooseMaterialsRequest } from '@/lib/loans/schema';
import { chooseMaterials } from '@/lib/loans/service/choose';
import { loanRecord } from '@/lib/loans/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.ask',
  params: idParams,
  body: chooseMaterialsRequest,
  response: loanRecord,
  service: ({ context, params, body }) => chooseMaterials(context, params.id, body),
});
