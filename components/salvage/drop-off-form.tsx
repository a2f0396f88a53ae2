'use client';

import { Button, Checkbox, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { newKey } from '@/components/ui/new-key';
import { problemsIn } from '@/components/ui/problem';
import { ApiProblem, callApi } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import { dropOffRequest } from '@/lib/salvage/schema';
import { dropOffAnswer } from '@/lib/salvage/wire-slip';
import classes from './salvage.module.css';

const EMPTY = {
  what: '',
  from: '',
  until: '',
  where: '',
  county: '',
  how: '',
  othersDead: '0',
  lookedIll: false,
  name: '',
  contact: '',
};
type Fields = typeof EMPTY;
type Position = { latitude: number; longitude: number; uncertaintyM: number };
const POSITION = { enableHighAccuracy: true, timeout: 20_000, maximumAge: 60_000 };

const whole = (text: string): number | string => (/^\d+$/.test(text.trim()) ? Number(text) : text);

/** The finder's form: a few questions, no account, nothing of the collection. What was typed survives a lost connection. */
export function DropOffForm({ token, today }: { token: string; today: string }) {
  const store = `furcula.drop-off.${token}`;
  const key = useRef(newKey());
  const [fields, setFields] = useState<Fields>({ ...EMPTY, from: today });
  const [position, setPosition] = useState<Position | null>(null);
  const [said, setSaid] = useState('');
  const [problems, setProblems] = useState<FieldProblem[]>([]);
  const [title, setTitle] = useState<string | undefined>();
  const [code, setCode] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const attempt = useRef(0);

  useEffect(() => {
    const kept = localStorage.getItem(store);
    if (kept === null) return;
    try {
      const parsed = JSON.parse(kept) as { key: string; fields: Fields };
      key.current = parsed.key;
      setFields((fresh) => ({ ...fresh, ...parsed.fields }));
    } catch {
      localStorage.removeItem(store);
    }
  }, [store]);
  const set = (change: Partial<Fields>) => {
    const next = { ...fields, ...change };
    localStorage.setItem(store, JSON.stringify({ key: key.current, fields: next }));
    setFields(next);
  };

  const locate = () => {
    setSaid(say('Asking the phone …'));
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        const { latitude, longitude, accuracy } = coords;
        setPosition({ latitude, longitude, uncertaintyM: Math.max(1, Math.ceil(accuracy)) });
        setSaid(say('Position taken, to within {ceil} m.', { ceil: Math.ceil(accuracy) }));
      },
      () => setSaid(say('The phone gave no position; the words are enough.')),
      POSITION,
    );
  };

  const submit = async (event: FormEvent) => {
    event.preventDefault();
    attempt.current += 1;
    const { from, until, othersDead, name, contact, ...rest } = fields;
    const parsed = dropOffRequest.safeParse({
      ...rest,
      ...position,
      requestKey: key.current,
      found: {
        earliestOn: from,
        latestOn: until || from,
        verbatim: until === '' ? from : say('{from} to {until}', { from, until }),
      },
      othersDead: whole(othersDead),
      name: name.trim() || null,
      contact: contact.trim() || null,
    });
    if (!parsed.success) {
      setTitle(undefined);
      setProblems(problemsIn(parsed.error));
      return;
    }
    setBusy(true);
    try {
      const answer = await callApi(`/api/drop-off/${token}`, {
        method: 'POST',
        body: parsed.data,
        schema: dropOffAnswer,
      });
      localStorage.removeItem(store);
      setCode(answer.code);
    } catch (error) {
      const problem = error instanceof ApiProblem ? error.problem : null;
      setTitle(problem?.title ?? say('Something went wrong. What you wrote is still here.'));
      setProblems(
        problem?.fields.length ? problem.fields : [{ path: 'what', message: say('Try again in a moment.') }],
      );
    } finally {
      setBusy(false);
    }
  };

  if (code !== null) return <Received code={code} />;
  const errorOf = (path: string) =>
    problems.find((problem) => problem.path === path || problem.path.startsWith(`${path}.`))?.message;
  const text = (name: Exclude<keyof Fields, 'lookedIll'>, path: string, label: string, more: object = {}) => (
    <TextInput
      id={fieldId(path)}
      size="md"
      label={label}
      value={fields[name]}
      error={errorOf(path)}
      onChange={(event) => set({ [name]: event.currentTarget.value })}
      {...more}
    />
  );
  return (
    <form onSubmit={(event) => void submit(event)} noValidate className={classes.form}>
      <ErrorSummary problems={problems} title={title} attempt={attempt.current} />
      {text('what', 'what', say('What bird is it, as far as you know?'), {
        required: true,
        placeholder: say('robin, small brown bird, unknown'),
      })}
      <div className={classes.row}>
        {text('from', 'found.earliestOn', say('Found on'), { type: 'date', max: today, required: true })}
        {text('until', 'found.latestOn', say('or between that day and'), { type: 'date', max: today })}
      </div>
      <div className={classes.group}>
        {text('where', 'where', say('Where exactly?'), {
          required: true,
          placeholder: say('street, building, side'),
        })}
        {text('county', 'county', say('Town or county'))}
        <div>
          <Button type="button" variant="default" size="md" onClick={locate}>
            {say('I am there now: use this phone’s position')}
          </Button>
        </div>
        {said === '' ? null : <p role="status">{said}</p>}
      </div>
      <Textarea
        id={fieldId('how')}
        size="md"
        label={say('How did you find it?')}
        autosize
        minRows={2}
        value={fields.how}
        error={errorOf('how')}
        onChange={(event) => set({ how: event.currentTarget.value })}
      />
      {text('othersDead', 'othersDead', say('Other dead birds there'), { inputMode: 'numeric' })}
      <Checkbox
        size="md"
        label={say('It looked ill before it died')}
        checked={fields.lookedIll}
        onChange={(event) => set({ lookedIll: event.currentTarget.checked })}
      />
      <div className={classes.group}>
        {text('name', 'name', say('Your name'), { autoComplete: 'name' })}
        {text('contact', 'contact', say('Telephone or e-mail'))}
        <p className={classes.quiet}>
          {say(
            'The law asks for the finder’s name and contact on the tag. Only those who need them see them; they are erased when you ask.',
          )}
        </p>
      </div>
      <div>
        <Button type="submit" size="lg" loading={busy}>
          {say('Send')}
        </Button>
      </div>
    </form>
  );
}

function Received({ code }: { code: string }) {
  return (
    <section role="status" className={classes.form}>
      <p>{say('Thank you. It has arrived. Write this on the bag:')}</p>
      <p className={classes.code}>{code}</p>
      <p>{say('Put the bird into a bag, without touching it with bare hands, and wash your hands.')}</p>
    </section>
  );
}
