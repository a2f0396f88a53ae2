import { enrolmentLink, enrolmentRequest } from '@/lib/people/schema';
import { beginEnrolment } from '@/lib/people/second-factor';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'workspace.enter',
  body: enrolmentRequest,
  response: enrolmentLink,
  service: ({ context, body }) => beginEnrolment(context, body.password),
});
