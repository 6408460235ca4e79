/** Kinds of shape: how they are grouped for choosing, and how they look. */

export const GROUPS = [
  { role: "turf", title: "Turf" },
  { role: "obstacle", title: "In the way" },
  { role: "protected", title: "Protect" },
];

const LOOKS = {
  turf: ["turf"],
  obstacle: ["building", "drive_or_walk", "patio", "other_obstacle"],
  water: ["pool", "pond", "stream", "well", "storm_drain"],
  plants: ["flower_bed", "vegetable_garden", "tree_or_shrub"],
  people: ["play_area", "beehives", "neighbours_land", "other_protected"],
};
const OBSTACLES = new Set([...LOOKS.obstacle, "pool"]);

/**
 * @param {string} token  A kind's token, such as "flower_bed".
 * @returns {"turf"|"obstacle"|"water"|"plants"|"people"}  Which hue and hatch it wears.
 */
export function lookOf(token) {
  const found = Object.entries(LOOKS).find(([, tokens]) => tokens.includes(token));
  return found ? found[0] : "people";
}

/**
 * @param {string} token
 * @returns {"turf"|"obstacle"|"protected"}  What the kind means for spraying.
 */
export function roleOf(token) {
  if (token === "turf") return "turf";
  return OBSTACLES.has(token) ? "obstacle" : "protected";
}

/**
 * Kinds under their group titles, in the order given; empty groups are left out.
 *
 * @param {{token: string, role: string, name: string}[]} kinds
 * @returns {{title: string, kinds: object[]}[]}
 */
export function grouped(kinds) {
  return GROUPS.map(({ role, title }) => ({
    title,
    kinds: kinds.filter((kind) => kind.role === role),
  })).filter((group) => group.kinds.length > 0);
}

/**
 * What a shape is called: its own name, or its kind's.
 *
 * @param {{properties: {name?: string, kind: string}}} shape
 * @param {{token: string, name: string}[]} [kinds]
 * @returns {string}
 */
export function nameOf(shape, kinds = []) {
  const { name, kind } = shape.properties;
  if (name) return name;
  const plain = kind.replaceAll("_", " ");
  return kinds.find((one) => one.token === kind)?.name ?? plain[0].toUpperCase() + plain.slice(1);
}

/** A new shape id: the kind and six random letters or digits. */
export function newRef(token, random = Math.random) {
  const tail = Array.from({ length: 6 }, () => Math.floor(random() * 36).toString(36)).join("");
  return `${token}-${tail}`;
}
