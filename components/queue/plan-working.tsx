'use client';

import { Button, Progress } from '@mantine/core';
import { useEffect, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { DayPlanAnswer } from '@/lib/queue/plan-wire';
import { usePlanAct } from './plan-queries';

/** How long the solver has been at work, of at most how long; it can be stopped. */
export function PlanWorking({ plan }: { plan: DayPlanAnswer }) {
  const act = usePlanAct(plan.id);
  const running = plan.state === 'asked' || plan.state === 'working';
  const seconds = useSecondsSince(running ? plan.startedAt : null);
  if (!running) return null;
  const limit = plan.input.seconds;
  const shown = Math.min(seconds, limit);
  return (
    <div role="status" aria-live="polite">
      <p>
        {plan.state === 'asked'
          ? say(
              'Waits for a free solver. If this lasts, the background worker may not be running: tell an administrator.',
            )
          : seconds <= limit
            ? say('Working it out: {shown} of at most {limit} s. You may leave this page.', { shown, limit })
            : say(
                'Working it out: the {limit} s are over, the reasons are being looked for or the answer is being saved.',
                { limit },
              )}
      </p>
      <Progress
        value={plan.state === 'asked' ? 0 : (100 * shown) / limit}
        aria-label={say('Time used of the time given')}
      />
      <Button
        mt="sm"
        variant="default"
        loading={act.isPending}
        onClick={() => act.mutate({ act: 'stop', body: {} })}
        hidden={!plan.abilities.stop}
      >
        {say('Stop')}
      </Button>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
    </div>
  );
}

function useSecondsSince(at: string | null): number {
  const [now, setNow] = useState(0);
  useEffect(() => {
    if (at === null) return;
    const tick = () => setNow(Date.now());
    tick();
    const timer = setInterval(tick, 500);
    return () => clearInterval(timer);
  }, [at]);
  return at === null || now === 0 ? 0 : Math.max(0, Math.floor((now - Date.parse(at)) / 1000));
}
