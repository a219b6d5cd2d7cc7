/** A function as its docstring describes it. */
export interface Described {
  readonly name: string;
  /** Without the parameter tags of examples. */
  readonly text: string;
  /** Programs that end in a comment with their value. */
  readonly examples: readonly Example[];
  /** `name(parameters): result`, from a declaration file; empty from a source. */
  readonly signature: string;
}

export interface Example {
  readonly program: string;
  /** As `shownValue` writes it. */
  readonly value: string;
}

const FUNCTION =
  /(?:\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\n)?export (declare )?function (\w+)((?:<[^(]*>)?\([\s\S]*?)(?=\n)/g;

/** The exported functions of a source or declaration file, overloads one by one. */
export function docstringsOf(text: string): Described[] {
  return Array.from(text.matchAll(FUNCTION), match => {
    const [whole, comment = '', declared, name = ''] = match;
    const { text: words, examples } = partedComment(comment);
    const start = match.index + whole.lastIndexOf(name + (match[4] ?? ''));
    return {
      name,
      text: words,
      examples,
      signature: declared === undefined ? '' : signatureAt(text, start),
    };
  });
}

/** A declaration runs to the semicolon outside of all brackets. */
function signatureAt(text: string, start: number): string {
  let depth = 0;
  for (let at = start; at < text.length; at++) {
    const sign = text[at] ?? '';
    if ('([{'.includes(sign)) depth++;
    else if (')]}'.includes(sign)) depth--;
    else if (sign === ';' && depth === 0) return text.slice(start, at);
  }
  return text.slice(start);
}

function partedComment(comment: string): { text: string; examples: Example[] } {
  const lines = comment.split('\n').map(line => line.replace(/^\s*\* ?/, '').trimEnd());
  const words: string[] = [];
  const programs: string[] = [];
  let inExample = false;
  for (const line of lines) {
    if (line.startsWith('@example')) {
      inExample = true;
      programs.push(line.slice('@example'.length).trim());
    } else if (inExample && line.startsWith('  ')) {
      programs[programs.length - 1] = `${programs.at(-1) ?? ''} ${line.trim()}`;
    } else {
      inExample = false;
      words.push(line);
    }
  }
  return { text: words.join('\n').trim(), examples: programs.map(exampleOf) };
}

function exampleOf(text: string): Example {
  const at = text.lastIndexOf(' // ');
  return at < 0 ? { program: text, value: '' } : { program: text.slice(0, at), value: text.slice(at + 4) };
}
