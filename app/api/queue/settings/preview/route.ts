import { defineRoute } from '@/lib/platform/http';
import { previewChoices } from '@/lib/queue/choices';
import { previewQuery, weightsPreview } from '@/lib/queue/settings-wire';

export const GET = defineRoute({
  permission: 'plan.make',
  query: previewQuery,
  response: weightsPreview,
  service: ({ actor, query }) => previewChoices(actor, query.proposal),
});
