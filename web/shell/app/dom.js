// A small keyed DOM helper. Places describe themselves as trees of h() nodes;
// patch() changes the page in place, so focus, selection and scroll survive.

const SVG = 'http://www.w3.org/2000/svg';

/**
 * Describes one element.
 * Props: attributes by name; `onX` handlers; `key` for lists; `class`; `value`,
 * `checked` and `open` as properties; `ref(el)` once after creation; `own: true`
 * when somebody else fills the element.
 * @param {string} tag
 * @param {Object|null} [props]
 * @param {...*} kids nodes, strings, numbers, arrays; null and false are left out
 */
export function h(tag, props, ...kids) {
  return { tag, props: props || {}, key: props?.key, kids: flatten(kids), el: null };
}

function flatten(kids, out = []) {
  for (const kid of kids) {
    if (kid === null || kid === undefined || kid === false || kid === true) continue;
    if (Array.isArray(kid)) flatten(kid, out);
    else if (typeof kid === 'object') out.push(kid);
    else out.push({ tag: '#text', text: String(kid), el: null, kids: [] });
  }
  return out;
}

/**
 * Makes the children of a parent look like the given nodes, reusing elements
 * of the same key (or place) and tag.
 * @param {Element} parent
 * @param {...*} nodes
 */
export function patch(parent, ...nodes) {
  const next = flatten(nodes);
  reconcile(parent, parent.__nodes || [], next);
  parent.__nodes = next;
}

function reconcile(parent, before, after) {
  const keyed = new Map();
  const rest = [];
  for (const node of before) {
    if (node.key !== undefined) keyed.set(node.key, node);
    else rest.push(node);
  }
  let place = 0;
  let cursor = parent.firstChild;
  for (const node of after) {
    const old = claim(node, keyed, rest, () => place++);
    if (old) update(node, old);
    else create(node, parent.namespaceURI);
    if (node.el === cursor) cursor = cursor.nextSibling;
    else parent.insertBefore(node.el, cursor);
  }
  for (const node of keyed.values()) node.el.remove();
  for (const node of rest) if (node) node.el.remove();
}

function claim(node, keyed, rest, nextPlace) {
  if (node.key !== undefined) {
    const old = keyed.get(node.key);
    if (!old || old.tag !== node.tag) return null;
    keyed.delete(node.key);
    return old;
  }
  const i = nextPlace();
  const old = rest[i];
  if (!old || old.tag !== node.tag) return null;
  rest[i] = null;
  return old;
}

function create(node, parentNS) {
  if (node.tag === '#text') {
    node.el = document.createTextNode(node.text);
    return;
  }
  const ns = node.tag === 'svg' ? SVG : parentNS;
  const el = ns === SVG ? document.createElementNS(SVG, node.tag) : document.createElement(node.tag);
  node.el = el;
  if (!node.props.own) reconcile(el, [], node.kids);
  apply(el, {}, node.props);
  if (node.props.ref) node.props.ref(el);
}

function update(node, old) {
  if (node === old) return; // kept from the last time: nothing in it is another
  node.el = old.el;
  if (node.tag === '#text') {
    if (node.text !== old.text) node.el.data = node.text;
    return;
  }
  if (!node.props.own) reconcile(node.el, old.kids, node.kids);
  apply(node.el, old.props, node.props);
}

const silent = new Set(['key', 'ref', 'own']);
const asProperty = new Set(['value', 'checked', 'open', 'indeterminate']);

function apply(el, before, after) {
  for (const name in before) if (!(name in after)) setProp(el, name, null, before[name]);
  for (const name in after) setProp(el, name, after[name], before[name]);
}

function setProp(el, name, value, old) {
  if (silent.has(name)) return;
  if (name.startsWith('on')) return listen(el, name.slice(2), value);
  if (asProperty.has(name)) {
    // What the student is typing stays; only a new value from the model replaces it.
    if (value !== old && el[name] !== value) el[name] = value ?? (name === 'value' ? '' : false);
    else if (name !== 'value' && el[name] !== value) el[name] = value ?? false;
    return;
  }
  if (value === old) return;
  if (value === null || value === undefined || value === false) el.removeAttribute(name);
  else el.setAttribute(name, value === true ? '' : value);
}

function listen(el, type, handler) {
  el.__on ??= {};
  if (!(type in el.__on)) el.addEventListener(type, (event) => el.__on[type]?.call(el, event));
  el.__on[type] = handler;
}

/** An element and what it stands in, from the inside out. */
export function trailOf(el) {
  const trail = [];
  for (let e = el; e && e !== document.body; e = e.parentElement) trail.push(e);
  return trail;
}

/** Focus never falls to the page's end: what is gone hands it to what it stood in. */
export function keepFocus(trail) {
  if (!trail.length || trail[0].isConnected) return;
  const heir = trail.find((e) => e.isConnected && e.id !== 'page') ?? document.getElementById('main');
  if (heir.tabIndex < 0) heir.setAttribute('tabindex', '-1');
  heir.focus({ preventScroll: true });
}

/**
 * Makes one SVG element; for drawings that are built once and then moved.
 * @param {string} tag
 * @param {Object} [attrs]
 * @param {...(Node|string)} kids
 * @returns {SVGElement}
 */
export function svg(tag, attrs = {}, ...kids) {
  const el = document.createElementNS(SVG, tag);
  for (const name in attrs) el.setAttribute(name, attrs[name]);
  el.append(...kids);
  return el;
}
