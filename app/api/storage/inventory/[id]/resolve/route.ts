import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { resolveFinding } from '@/lib/storage/service/inventory';
import { countRecord, resolveRequest } from '@/lib/storage/wire-inventory';

export const POST = defineRoute({
  permission: 'inventory.run',
  params: idParams,
  body: resolveRequest,
  response: countRecord,
  service: ({ context, params, body }) => resolveFinding(context, params.id, body),
});
