// Where parts stand sideways in the picture: a scheme. Each wheel gets a column; a cylinder with two chambers stands between
// the columns of its two circuits, another one left of its own.
import type { Layout, Place } from "./data";

export const part_key = (place: Place): string => (place.volume !== undefined ? `v${place.volume}` : `j${place.junction}`);

interface Tree { key: string; children: Tree[] }

/** What hangs on a chamber, every part once. */
function tree_from(layout: Layout, key: string, seen: Set<string>): Tree {
  seen.add(key);
  const children: Tree[] = [];
  layout.lines.forEach((line, i) => {
    const from = line.from ? part_key(line.from) : `b${i}`, to = line.to ? part_key(line.to) : `b${i}`;
    const next = from === key ? to : to === key ? from : undefined;
    if (next !== undefined && !seen.has(next)) children.push(tree_from(layout, next, seen));
  });
  return { key, children };
}

/** What has a column of its own: cavities (both halves of a caliper, too) and ends of pipes. */
const stands = (tree: Tree): string[] =>
  [...(tree.key.startsWith("v") || tree.children.length === 0 ? [tree.key] : []), ...tree.children.flatMap(stands)];

/** Middle of its wheels for a part that branches; a part on the way lies towards what follows. */
function place_between(tree: Tree, from: number, x: Map<string, number>): void {
  const columns = stands(tree).map((key) => x.get(key)!);
  const middle = columns.reduce((a, b) => a + b, 0) / columns.length;
  const here = x.get(tree.key) ?? (tree.children.length > 1 ? middle : from + 0.72 * (middle - from));
  x.set(tree.key, here);
  for (const child of tree.children) place_between(child, here, x);
}

/** Columns of every part, in whole and part columns from 0, and how many there are. */
export function columns(layout: Layout): { x: Map<string, number>; count: number } {
  const x = new Map<string, number>(), seen = new Set<string>();
  let next = 0;
  for (const actuator of layout.actuators) {
    const roots = actuator.pistons.map((p) => `v${p.volume}`).filter((key) => !seen.has(key));
    for (const key of roots) seen.add(key);
    const trees = roots.map((key) => tree_from(layout, key, seen));
    const left = trees.length > 1 ? trees.slice(0, Math.floor(trees.length / 2)) : [];
    const right = trees.slice(left.length);
    const wheels = (list: Tree[]) => list.flatMap((tree) => tree.children.flatMap(stands));
    for (const key of wheels(left)) x.set(key, next++);
    const cylinder = next++;
    for (const key of wheels(right)) x.set(key, next++);
    trees.forEach((tree, i) => {
      const own = cylinder + 0.42 * (i - (trees.length - 1) / 2);
      for (const child of tree.children) place_between(child, own, x);
      x.set(tree.key, own);
    });
  }
  layout.volumes.forEach((_, i) => { if (!x.has(`v${i}`)) x.set(`v${i}`, next++); });
  layout.junctions.forEach((_, i) => { if (!x.has(`j${i}`)) x.set(`j${i}`, next++); });
  return { x, count: Math.max(next, 1) };
}
