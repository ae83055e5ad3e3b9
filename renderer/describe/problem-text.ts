import { explain } from '../figures/explain.ts'

type Unfit = { kind: 'unfit'; problems: readonly { path: string; message: string }[] }

/** One sentence for what a request about a description came back with. */
export const explainUnfit = (failure: Parameters<typeof explain>[0] | Unfit): string =>
  failure.kind === 'unfit' ? failure.problems.map((p) => `${p.path}: ${p.message}`).join('; ') : explain(failure)
