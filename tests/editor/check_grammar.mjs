// Checks the editor grammar: chosen tokens get their scopes, every word of the written grammar is
// known, and valid scores are coloured to the last character.
//
//   node check_grammar.mjs NODE_MODULES SOURCE_FOLDER FOLDER_OF_SCORES...
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { loadGrammar, tokensOf } from './grammar.mjs';
import { CASES } from './cases.mjs';

const [modules, root, ...folders] = process.argv.slice(2).map((argument) => path.resolve(argument));
const editor = await loadGrammar(modules, root);

const nearest = (token) => token.scopes[token.scopes.length - 1].replace(/\.yubifu$/, '');
const visible = (tokens) => tokens.filter((token) => token.text.trim() !== '');

// [text, scope] of what can be seen.
const coloured = (text) => visible(tokensOf(editor, text)).map((t) => [t.text.trim(), nearest(t)]);

function checkCases() {
  for (const [text, expected] of CASES) {
    assert.deepEqual(coloured(text), expected, `scopes of ${JSON.stringify(text)}`);
  }
  console.log(`${CASES.length} lines have the scopes that are expected of them`);
}

// The quoted words of a production in schemas/notation.ebnf.
function wordsOf(production) {
  const text = fs.readFileSync(path.join(root, 'schemas', 'notation.ebnf'), 'utf8')
    .replace(/\(\*[^]*?\*\)/g, '');
  const body = text.match(new RegExp(`(?:^|\\n)${production}\\s*=([^;]*);`));
  assert.ok(body, `no production ${production} in the written grammar`);
  const words = [...body[1].matchAll(/"([^"]+)"/g)].map((match) => match[1]);
  return words.filter((word) => /^\p{L}/u.test(word));
}

// A word that is added to the language has to be added here as well.
function checkVocabulary() {
  const kinds = [
    [['plain mark', 'grace', 'holes'], (word) => `三{${word}}`, 'entity.other.attribute-name.mark'],
    [['start direction', 'end direction', 'direction anywhere'], (word) => `{${word}}`,
      'keyword.other.direction'],
    [['header value'], (word) => `${word}:`, 'entity.name.tag'],
  ];
  let count = 0;
  const values = new Set(['in-c', 'sounding', 'cross', 'tube', 'end']);
  for (const [productions, write, scope] of kinds) {
    for (const word of productions.flatMap(wordsOf)) {
      if (values.has(word)) {
        const value = coloured(`staff: ${word}`).at(-1);
        assert.deepEqual(value, [word, 'constant.language']);
      } else {
        const found = coloured(write(word)).find(([text]) => text === word);
        assert.deepEqual(found, [word, scope]);
      }
      ++count;
    }
  }
  assert.ok(count > 50, `only ${count} words in the written grammar`);
  console.log(`${count} words of the written grammar are known`);
}

function checkScore(file) {
  let characters = 0;
  for (const token of visible(tokensOf(editor, fs.readFileSync(file, 'utf8')))) {
    const place = `${file}:${token.line}: ${JSON.stringify(token.text)}`;
    assert.ok(token.scopes.length > 1, `${place} has no scope`);
    // A meta scope alone gives no colour.
    assert.ok(!nearest(token).startsWith('meta.'), `${place} has only ${nearest(token)}`);
    assert.ok(!nearest(token).startsWith('invalid.'), `${place} is taken for a fault`);
    characters += [...token.text].filter((character) => character.trim() !== '').length;
  }
  return characters;
}

function checkScores(folder) {
  const files = fs.readdirSync(folder).filter((file) => file.endsWith('.yubifu'));
  assert.ok(files.length > 0, `no scores in ${folder}`);
  let characters = 0;
  for (const file of files) characters += checkScore(path.join(folder, file));
  console.log(`${characters} characters of ${files.length} scores have a scope ` +
    `(${path.relative(root, folder).startsWith('..') ? 'generated' : path.relative(root, folder)})`);
}

checkCases();
checkVocabulary();
folders.forEach(checkScores);
