import { Children, isValidElement, type ReactElement, type ReactNode } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { chainCells } from '../../renderer/chain/chain-cells.ts'
import { InDoubt } from '../../renderer/parts/in-doubt.tsx'
import type { PointView } from '../../renderer/state/point-view.ts'

const within = (node: ReactNode): ReactElement[] =>
  Children.toArray(node).flatMap((part) => (isValidElement<{ children?: ReactNode }>(part) ? [part, ...within(part.props.children)] : []))

/** The mark that a reading in doubt has in the table, as markup; empty where it has none. */
export const readingMark = (view: PointView): string =>
  within(chainCells.reading(view).most)
    .filter(({ type }) => type === InDoubt)
    .map((mark) => renderToStaticMarkup(mark))
    .join('')
