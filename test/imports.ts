import { readFileSync } from 'node:fs'
import { posix } from 'node:path'
import { parseSync, Visitor } from 'vite'

/** One import as written in a source file. `target` is a path from the project's root, or a package specifier as it stands. */
export type Import = { target: string; typeOnly: boolean }

type Node = { type: string }
type Literal = Node & { value: unknown }
type Template = Node & { expressions: readonly unknown[]; quasis: readonly { value: { cooked: string | null } }[] }

/** What a module specifier says where it can be known without running the program. */
function textOf(node: Node): string | undefined {
  if (node.type === 'Literal') return String((node as Literal).value)
  if (node.type === 'TemplateLiteral' && (node as Template).expressions.length === 0)
    return (node as Template).quasis.map((q) => q.value.cooked ?? '').join('')
  return undefined
}

/**
 * Everything that `source` imports: static, side-effect, re-export, dynamic, `import('…').T` in types, `require`.
 * A dynamic import whose target is computed comes out as "(computed)", so that no rule allows it unseen.
 * Only a whole `import type` counts as types: `import { type A }` still loads the module when types are stripped.
 */
export function importsOf(file: string, source: string): Import[] {
  const parsed = parseSync(file, source)
  if (parsed.errors.length > 0) throw new Error(`${file} cannot be parsed: ${parsed.errors[0]?.message}`)
  const found: Import[] = []
  const add = (specifier: string | undefined, typeOnly: boolean) => {
    const written = specifier ?? '(computed)'
    const target = written.startsWith('.') ? posix.normalize(posix.join(posix.dirname(file), written)) : written
    found.push({ target, typeOnly })
  }
  new Visitor({
    ImportDeclaration: (n) => add(n.source.value, n.importKind === 'type'),
    ExportAllDeclaration: (n) => add(n.source.value, n.exportKind === 'type'),
    ExportNamedDeclaration: (n) => {
      if (n.source) add(n.source.value, n.exportKind === 'type')
    },
    ImportExpression: (n) => add(textOf(n.source), false),
    TSImportType: (n) => add(textOf(n.source), true),
    TSImportEqualsDeclaration: (n) => {
      if (n.moduleReference.type === 'TSExternalModuleReference') add(textOf(n.moduleReference.expression), n.importKind === 'type')
    },
    CallExpression: (n) => {
      const [first] = n.arguments
      if (n.callee.type === 'Identifier' && n.callee.name === 'require' && first) add(textOf(first), false)
    },
  }).visit(parsed.program)
  return found
}

export const importsInFile = (root: string, file: string): Import[] => importsOf(file, readFileSync(posix.join(root, file), 'utf8'))
