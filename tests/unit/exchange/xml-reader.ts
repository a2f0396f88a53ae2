interface XmlElement {
  name: string;
  attributes: Record<string, string>;
  children: XmlElement[];
  text: string;
}

const ENTITIES: Record<string, string> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };
const decode = (text: string) =>
  text.replace(/&(#x[\da-f]+|#\d+|\w+);/gi, (_, name: string) =>
    name.startsWith('#x')
      ? String.fromCodePoint(Number.parseInt(name.slice(2), 16))
      : name.startsWith('#')
        ? String.fromCodePoint(Number(name.slice(1)))
        : (ENTITIES[name] ?? ''),
  );

/** Enough of XML to read a metafile in a test: elements, attributes, text; prefixes are cut off. */
export class XMLParserLite {
  readonly root: XmlElement;

  constructor(xml: string) {
    const document: XmlElement = { name: '', attributes: {}, children: [], text: '' };
    const open: XmlElement[] = [document];
    const pattern =
      /<!--[\s\S]*?-->|<\?[\s\S]*?\?>|<\/([\w:.-]+)\s*>|<([\w:.-]+)((?:\s+[\w:.-]+\s*=\s*(?:"[^"]*"|'[^']*'))*)\s*(\/?)>|([^<]+)/g;
    for (const [, closing, opening, attributeText = '', selfClosed, text] of xml.matchAll(pattern)) {
      const parent = open.at(-1) ?? document;
      if (text) parent.text += decode(text).trim();
      if (closing) open.pop();
      if (!opening) continue;
      const attributes: Record<string, string> = {};
      for (const [, name = '', double, single] of attributeText.matchAll(
        /([\w:.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g,
      )) {
        attributes[name] = decode(double ?? single ?? '');
      }
      const element: XmlElement = { name: opening.replace(/^.*:/, ''), attributes, children: [], text: '' };
      parent.children.push(element);
      if (!selfClosed) open.push(element);
    }
    const [root] = document.children;
    if (!root) throw new Error('no element');
    this.root = root;
  }
}
