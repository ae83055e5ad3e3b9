import '../app/contract/no-eval.ts'
import '@fontsource/source-sans-3/400.css'
import '@fontsource/source-sans-3/600.css'
import '@fontsource/b612/400.css'
import '@mantine/core/styles.layer.css'
import './theme/base.css'
import './theme/frame.css'
import './theme/scaling-and-check.css'
import './theme/scaling-and-settings.css'
import './theme/places.css'
import './theme/columns.css'
import './theme/describe.css'
import './theme/left-places.css'
import './theme/table.css'
import './theme/habits.css'
import { MantineProvider } from '@mantine/core'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { keepFocus } from './frame/keep-focus.ts'
import { Workbench } from './frame/workbench.tsx'
import { openChannel } from './host/channels.ts'
import { editsInTurn } from './host/edits-in-turn.ts'
import { createHostClient } from './host/host-client.ts'
import { HostProvider } from './state/host-context.tsx'
import { Store } from './state/store.ts'
import { mantineTheme, pageColours } from './theme/mantine-theme.ts'

const store = new Store()
const client = editsInTurn(createHostClient(openChannel(), (what) => store.note(what)))
store.follow(client)
keepFocus(document)

const root = document.getElementById('root')
if (!root) throw new Error('index.html has no #root')
createRoot(root).render(
  <StrictMode>
    <MantineProvider theme={mantineTheme} cssVariablesResolver={pageColours} defaultColorScheme="auto">
      <HostProvider client={client} store={store}>
        <Workbench />
      </HostProvider>
    </MantineProvider>
  </StrictMode>,
)
