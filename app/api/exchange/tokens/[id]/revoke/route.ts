import { revokeRequest, tokenRow } from '@/lib/exchange/schema';
import { revokeApiToken } from '@/lib/exchange/service/tokens';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'tokens.manage',
  params: idParams,
  body: revokeRequest,
  response: tokenRow,
  service: ({ context, params, body }) => revokeApiToken(context, params.id, body.reason),
});
