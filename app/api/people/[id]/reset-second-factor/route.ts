import { factorReset, personRecord } from '@/lib/people/schema';
import { resetSecondFactor } from '@/lib/people/second-factor';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: factorReset,
  response: personRecord,
  service: ({ context, params, body }) => resetSecondFactor(context, params.id, body.reason),
});
