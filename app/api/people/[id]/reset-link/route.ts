import { emptyBody, linkAnswer } from '@/lib/people/schema';
import { offerPasswordReset } from '@/lib/people/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: emptyBody,
  response: linkAnswer,
  service: ({ context, params }) => offerPasswordReset(context, params.id),
});
