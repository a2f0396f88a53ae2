import { personRecord, rolesChange } from '@/lib/people/schema';
import { changeRoles } from '@/lib/people/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: rolesChange,
  response: personRecord,
  service: ({ context, params, body }) => changeRoles(context, params.id, body),
});
