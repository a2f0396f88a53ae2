import { tokenMade, tokenRequest, tokenRows } from '@/lib/exchange/schema';
import { listTokens, makeApiToken } from '@/lib/exchange/service/tokens';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'tokens.manage',
  response: tokenRows,
  service: ({ actor }) => listTokens(actor),
});

export const POST = defineRoute({
  permission: 'tokens.manage',
  body: tokenRequest,
  response: tokenMade,
  service: ({ context, body }) => makeApiToken(context, body),
});
