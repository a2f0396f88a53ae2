import { saveViewRequest } from '@/lib/catalogue/schema';
import { keepView, listViews } from '@/lib/catalogue/service/views';
import { savedViews } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'catalogue.see',
  response: savedViews,
  service: ({ actor }) => listViews(actor),
});

export const POST = defineRoute({
  permission: 'catalogue.see',
  body: saveViewRequest,
  response: savedViews,
  service: ({ context, body }) => keepView(context, body),
});
