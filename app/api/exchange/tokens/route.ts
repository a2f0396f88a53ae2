import { tokenMade, tokenRequest, tokenRows } from '@/lib/exchange/schema';
import { listTokens, makeApiToken } from '@/lib/exchange/service/tokens';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'tokens.manage',
  response: tokenRows,
  service: ({ actor }) => listTokens(actor),
});

// The answer holds the secret: a repeated delivery must not find it kept, so idempotency keys are passed over.
export const POST = defineRoute({
  permission: 'tokens.manage',
  body: tokenRequest,
  response: tokenMade,
  service: ({ actor, context, body }) => makeApiToken({ actor, requestId: context.requestId }, body),
});
