import { erasePerson } from '@/lib/people/privacy';
import { erasureRequest, personRecord } from '@/lib/people/schema';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: erasureRequest,
  response: personRecord,
  service: ({ context, params, body }) => erasePerson(context, params.id, body.reason),
});
