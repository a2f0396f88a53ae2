'use client';

import { Button, Checkbox, NativeSelect } from '@mantine/core';
import { IconPlus, IconX } from '@tabler/icons-react';
import { useEffect, useMemo, useRef, useState } from 'react';
import {
  addNode,
  type BuilderNode,
  builderOf,
  builderText,
  type Condition,
  changeNode,
  type Group,
  ROOT,
  readCondition,
  removeNode,
} from '@/lib/catalogue/query/builder';
import { MAX_QUERY_LENGTH, parseQuery } from '@/lib/catalogue/query/parse';
import { printQuery } from '@/lib/catalogue/query/print';
import type { QueryContext } from '@/lib/catalogue/query/words';
import { say } from '@/lib/platform/words/say';
import classes from './builder.module.css';
import { BUILDER_FIELDS, type FieldName } from './builder-fields';
import { BuilderValue } from './builder-value';

const FIELD_ORDER = Object.keys(BUILDER_FIELDS) as FieldName[];

/** How the box is read here, and the fields that this reader may ask by. */
export type SearchReading = { context: QueryContext; fields: readonly FieldName[] };

type Change = (next: Group, focus?: number) => void;
type PartProps = { root: Group; fields: readonly FieldName[]; change: Change };

function NotBox({ node, root, change }: { node: BuilderNode; root: Group; change: Change }) {
  return (
    <Checkbox
      label={say('not')}
      checked={node.not}
      onChange={(event) => change(changeNode(root, node, { not: event.currentTarget.checked }))}
    />
  );
}

function Remove({
  what,
  node,
  root,
  change,
}: {
  what: string;
  node: BuilderNode;
  root: Group;
  change: Change;
}) {
  return (
    <button
      type="button"
      className={classes.remove}
      aria-label={say('Take away: {what}', { what })}
      onClick={() => change(removeNode(root, node.id), ROOT)}
    >
      <IconX size={18} stroke={1.75} aria-hidden="true" />
    </button>
  );
}

function ConditionLine({ node, root, fields, change }: PartProps & { node: Condition }) {
  const read = readCondition(node);
  const offered = fields.includes(node.field) ? fields : [node.field, ...fields];
  return (
    <li className={classes.line} data-part={node.id}>
      <NotBox node={node} root={root} change={change} />
      <NativeSelect
        aria-label={say('Field')}
        data-part-focus=""
        data={offered.map((field) => ({ value: field, label: BUILDER_FIELDS[field].label }))}
        value={node.field}
        onChange={(event) =>
          change(changeNode(root, node, { field: event.currentTarget.value as FieldName, values: [] }))
        }
      />
      <BuilderValue
        key={node.field}
        field={node.field}
        values={node.values}
        onChange={(values) => change(changeNode(root, node, { values }))}
      />
      <Remove what={BUILDER_FIELDS[node.field].label} node={node} root={root} change={change} />
      {typeof read === 'string' ? (
        <p role="alert" className={classes.wrong}>
          {node.field === 'bones' && !node.values[0]?.match(/^[a-z]/) ? say('Choose a bone.') : read}
        </p>
      ) : null}
    </li>
  );
}

function GroupBox({ node, root, fields, change, name }: PartProps & { node: Group; name: string }) {
  const add = (part: Parameters<typeof addNode>[2]) => {
    const { root: next, added } = addNode(root, node.id, part);
    change(next, added);
  };
  const first = fields[0] ?? 'taxon';
  return (
    <fieldset className={classes.group} data-part={node.id}>
      <legend>{name}</legend>
      <div className={classes.line}>
        {node.id === ROOT ? null : <NotBox node={node} root={root} change={change} />}
        <NativeSelect
          aria-label={say('{name}: how its parts are joined', { name })}
          data-part-focus=""
          data={[
            { value: 'and', label: say('All of these (and)') },
            { value: 'or', label: say('Any of these (or)') },
          ]}
          value={node.join}
          onChange={(event) =>
            change(changeNode(root, node, { join: event.currentTarget.value === 'or' ? 'or' : 'and' }))
          }
        />
        {node.id === ROOT ? null : <Remove what={name} node={node} root={root} change={change} />}
      </div>
      <ul className={classes.list}>
        {node.of.map((part, at) =>
          part.kind === 'condition' ? (
            <ConditionLine key={part.id} node={part} root={root} fields={fields} change={change} />
          ) : (
            <li key={part.id}>
              <GroupBox
                node={part}
                root={root}
                fields={fields}
                change={change}
                name={node.id === ROOT ? say('Group {at}', { at: at + 1 }) : `${name}.${at + 1}`}
              />
            </li>
          ),
        )}
      </ul>
      <div className={classes.line}>
        <Button
          variant="default"
          leftSection={<IconPlus size={16} aria-hidden="true" />}
          onClick={() => add({ kind: 'condition', field: first })}
        >
          {say('Condition')}
        </Button>
        <Button
          variant="default"
          leftSection={<IconPlus size={16} aria-hidden="true" />}
          onClick={() => add({ kind: 'group', join: node.join === 'and' ? 'or' : 'and' })}
        >
          {say('Group')}
        </Button>
      </div>
    </fieldset>
  );
}

/**
 * The same filter as the box, line by line: what is written there appears here, and what is changed here is written
 * there and in the address. A line that is not complete yet waits here and is left out of the search.
 */
export function SearchBuilder({
  q,
  context,
  fields,
  onQuery,
}: SearchReading & { q: string; onQuery: (q: string) => void }) {
  const offered = FIELD_ORDER.filter((field) => fields.includes(field));
  const { query, problems } = useMemo(() => parseQuery(q, context), [q, context]);
  const canonical = printQuery(query);
  const [root, setRoot] = useState(() => builderOf(query));
  const [shown, setShown] = useState(canonical);
  /** Texts on their way to the address: their arrival is no news. */
  const sent = useRef<string[]>([]);
  const box = useRef<HTMLDivElement>(null);
  const [focus, setFocus] = useState<{ part: number } | null>(null);
  useEffect(() => {
    const at = sent.current.indexOf(canonical);
    if (at >= 0) sent.current.splice(0, at + 1);
    else if (canonical !== shown) {
      sent.current = [];
      setRoot(builderOf(query));
    }
    setShown(canonical);
  }, [canonical, query, shown]);
  useEffect(() => {
    if (focus === null) return;
    box.current?.querySelector<HTMLElement>(`[data-part="${focus.part}"] [data-part-focus]`)?.focus();
  }, [focus]);

  const text = builderText(root);
  const change: Change = (next, part) => {
    setRoot(next);
    if (part !== undefined) setFocus({ part });
    const written = builderText(next);
    if (written === (sent.current.at(-1) ?? canonical) || written.length > MAX_QUERY_LENGTH) return;
    sent.current.push(written);
    onQuery(written);
  };
  const isEmpty = root.of.length === 0;
  return (
    <div className={classes.builder} ref={box}>
      {problems.length > 0 ? (
        <p className={classes.wrong}>
          {say('What was not understood in the box goes away when you change something here.')}
        </p>
      ) : null}
      {text.length > MAX_QUERY_LENGTH ? (
        <p role="alert" className={classes.wrong}>
          {say(
            'These are too many conditions: take some away until the search fits into {maxQueryLength} letters.',
            { maxQueryLength: MAX_QUERY_LENGTH },
          )}
        </p>
      ) : null}
      <GroupBox node={root} root={root} fields={offered} change={change} name={say('Birds that fit')} />
      {isEmpty ? <p>{say('Without a condition every bird fits. Add the first one.')}</p> : null}
    </div>
  );
}
