import { showDesk } from '@/lib/desk/piles';
import { desk } from '@/lib/desk/schema';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'workspace.enter',
  response: desk,
  service: ({ actor }) => showDesk(actor),
});
