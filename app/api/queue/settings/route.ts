import { defineRoute } from '@/lib/platform/http';
import { changeChoices, showChoices } from '@/lib/queue/choices';
import { settingsAnswer, settingsChange } from '@/lib/queue/settings-wire';

export const GET = defineRoute({
  permission: 'plan.see',
  response: settingsAnswer,
  service: ({ actor }) => showChoices(actor),
});

export const POST = defineRoute({
  permission: 'plan.make',
  body: settingsChange,
  response: settingsAnswer,
  service: ({ context, body }) => changeChoices(context, body),
});
