import { Section } from '@/components/ui/facts';
import { sayDay } from '@/lib/platform/say-dates';
import { say, sayWord } from '@/lib/platform/words/say';
import type { DayPlanAnswer } from '@/lib/queue/plan-wire';
import { timeOf } from './minutes';
import classes from './plan.module.css';

/** The walks to the freezer: when, where to, which bird, for whom; in walking order. */
export function PlanPull({ rounds, planOn }: { rounds: DayPlanAnswer['pull']; planOn: string }) {
  return (
    <Section
      id="pull"
      title={say('Out of the freezer')}
      note={say(
        'Lead times by size are settings: common practice, no source. Where a time falls at night, take the bird out on the last walk before it. Birds keep their bags and tags.',
      )}
    >
      {rounds.map((round) => (
        <div key={round.takeOutBy} className={classes.scroll}>
          <table className={classes.table}>
            <caption>
              {say('Take out by {timeOf}{x}', {
                timeOf: timeOf(round.takeOutBy),
                x: round.takeOutBy.startsWith(planOn)
                  ? ''
                  : say(' on {day}', { day: sayDay(round.takeOutBy.slice(0, 10)) }),
              })}
            </caption>
            <thead>
              <tr>
                <th scope="col">{say('Place')}</th>
                <th scope="col">{say('Bird')}</th>
                <th scope="col">{say('Size')}</th>
                <th scope="col">{say('For')}</th>
                <th scope="col">{say('Starts')}</th>
                <th scope="col">{say('Out')}</th>
              </tr>
            </thead>
            <tbody>
              {round.lines.map((line) => (
                <tr key={line.birdId}>
                  <td>{line.path.length === 0 ? say('no place noted') : line.path.join(' › ')}</td>
                  <th scope="row">{line.label}</th>
                  <td>{sayWord(line.sizeClass)}</td>
                  <td>{line.personName}</td>
                  <td>{timeOf(line.startAt)}</td>
                  <td>{line.isThawed ? say('not frozen') : <span className={classes.box} />}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      ))}
    </Section>
  );
}
