import { determineBirdsRequest } from '@/lib/catalogue/schema';
import { determineBirds } from '@/lib/catalogue/service/record';
import { bulkAnswer } from '@/lib/platform/bulk-wire';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'catalogue.amend',
  body: determineBirdsRequest,
  response: bulkAnswer,
  service: ({ context, body }) => determineBirds(context, body),
});
