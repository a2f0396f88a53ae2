import { waitingCounts } from '@/lib/desk/schema';
import { countWaitingFor } from '@/lib/desk/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'workspace.enter',
  response: waitingCounts,
  service: ({ actor }) => countWaitingFor(actor),
});
