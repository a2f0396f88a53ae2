import { readField } from './fields';
import { printQuery, termValues } from './print';
import { joinQueries, type Query, type QueryTerm } from './schema';

/** One line of the builder: a field and what is asked of it, as the box would write it after the colon. */
export type Condition = {
  kind: 'condition';
  id: number;
  not: boolean;
  field: QueryTerm['field'];
  values: string[];
};
/** Conditions and groups that all have to fit, or one of them. */
export type Group = {
  kind: 'group';
  id: number;
  not: boolean;
  join: 'and' | 'or';
  of: BuilderNode[];
};
export type BuilderNode = Condition | Group;

/** The root of every builder. */
export const ROOT = 0;

const valuesOf = (term: QueryTerm): string[] =>
  term.field === 'month' ? term.months.map(String) : termValues(term);

function nodeOf(query: Query, id: () => number, not = false): BuilderNode {
  switch (query.kind) {
    case 'term':
      return { kind: 'condition', id: id(), not, field: query.field, values: valuesOf(query) };
    case 'not':
      return nodeOf(query.of, id, !not);
    default:
      return {
        kind: 'group',
        id: id(),
        not,
        join: query.kind,
        of: query.of.map((part) => nodeOf(part, id)),
      };
  }
}

/** A filter as the builder shows it: always a group, whose parts have numbers of their own. */
export function builderOf(query: Query | null): Group {
  let last = ROOT;
  const id = () => {
    last += 1;
    return last;
  };
  const root: Group = { kind: 'group', id: ROOT, not: false, join: 'and', of: [] };
  if (query === null) return root;
  if (query.kind === 'and' || query.kind === 'or')
    return { ...root, join: query.kind, of: query.of.map((part) => nodeOf(part, id)) };
  return { ...root, of: [nodeOf(query, id)] };
}

const given = (values: readonly string[]): string[] =>
  values.map((value) => value.trim()).filter((value) => value !== '');

/** What a condition asks, or what is wrong with it in words; null while nothing is written in it. */
export function readCondition({ field, values }: Condition): QueryTerm | string | null {
  const known = given(values);
  return known.length === 0 ? null : readField(field, known);
}

/** The filter that a builder stands for. Lines that are empty or not understood are left out. */
export function queryOf(node: BuilderNode): Query | null {
  const query = node.kind === 'group' ? joinQueries(node.join, node.of.map(queryOf)) : readCondition(node);
  if (query === null || typeof query === 'string') return null;
  if (!node.not) return query;
  return query.kind === 'not' ? query.of : { kind: 'not', of: query };
}

/** What the builder writes into the box and the address. */
export const builderText = (root: Group): string => printQuery(queryOf(root));

const newestId = (node: BuilderNode): number =>
  node.kind === 'condition' ? node.id : Math.max(node.id, ...node.of.map(newestId));

function mapNodes(node: Group, change: (node: BuilderNode) => BuilderNode | null): Group {
  const of = node.of.flatMap((part) => {
    const changed = change(part);
    if (changed === null) return [];
    return [changed.kind === 'group' ? mapNodes(changed, change) : changed];
  });
  return { ...node, of };
}

/** The builder with one of its parts, or the root itself, changed. */
export function changeNode<Kind extends BuilderNode>(root: Group, node: Kind, changes: Partial<Kind>): Group {
  if (node.id === root.id) return { ...root, ...(changes as Partial<Group>) };
  return mapNodes(root, (part) => (part.id === node.id ? ({ ...part, ...changes } as BuilderNode) : part));
}

export const removeNode = (root: Group, id: number): Group =>
  mapNodes(root, (part) => (part.id === id ? null : part));

/** The builder with a new part at the end of a group; `added` is the part's number. */
export function addNode(
  root: Group,
  groupId: number,
  part: { kind: 'condition'; field: QueryTerm['field'] } | { kind: 'group'; join: 'and' | 'or' },
): { root: Group; added: number } {
  const added = newestId(root) + 1;
  const node: BuilderNode =
    part.kind === 'condition'
      ? { ...part, id: added, not: false, values: [] }
      : {
          ...part,
          id: added,
          not: false,
          of: [{ kind: 'condition', id: added + 1, not: false, field: 'taxon', values: [] }],
        };
  const add = (group: Group): Group => ({ ...group, of: [...group.of, node] });
  if (groupId === root.id) return { root: add(root), added };
  return {
    root: mapNodes(root, (one) => (one.kind === 'group' && one.id === groupId ? add(one) : one)),
    added,
  };
}

/** The parts of `radius+ulna/right/whole`; what is missing is ''. */
export function readBones(value = ''): { elements: string[]; side: string; state: string } {
  const [list = '', ...marks] = value.split('/');
  const state = marks.find((mark) => ['whole', 'broken', 'missing'].includes(mark)) ?? '';
  return {
    elements: list === '' ? [] : list.split('+'),
    side: marks.find((mark) => mark !== state) ?? '',
    state,
  };
}

/** The value of a condition about bones: without a bone it is not understood, and says so. */
export const printBones = ({ elements, side, state }: ReturnType<typeof readBones>): string =>
  [elements.join('+'), ...[side, state].filter((part) => part !== '')].join('/');
