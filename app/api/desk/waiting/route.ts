import { countWaitingFor } from '@/lib/desk/service';
import { waitingCounts } from '@/lib/desk/stages';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'workspace.enter',
  response: waitingCounts,
  service: ({ actor }) => countWaitingFor(actor),
});
