#!/usr/bin/env node
// Plain, old syntax on purpose: whatever Node runs this must be able to read it far enough to say what is wrong.
import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import module from 'node:module'
import { fileURLToPath } from 'node:url'

// The first versions that run TypeScript files without a flag.
var needed = { 22: 18, 23: 6 }

function isRecentEnough(version) {
  var parts = version.split('.').map(Number)
  var minor = needed[parts[0]]
  return parts[0] > 23 || (minor !== undefined && parts[1] >= minor)
}

function runWith(node) {
  var child = spawn(node, [fileURLToPath(import.meta.url)].concat(process.argv.slice(2)), { stdio: 'inherit' })
  var signals = ['SIGINT', 'SIGTERM', 'SIGHUP']
  var passOn = {}
  signals.forEach((signal) => {
    passOn[signal] = () => {
      child.kill(signal)
    }
    process.on(signal, passOn[signal])
  })
  child.on('error', (problem) => {
    console.error('Spanwright could not be started with ' + node + ': ' + problem.message)
    process.exit(1)
  })
  child.on('exit', (code, signal) => {
    signals.forEach((name) => {
      process.removeListener(name, passOn[name])
    })
    if (signal) process.kill(process.pid, signal)
    else process.exit(code)
  })
}

var own = fileURLToPath(new URL('../../node_modules/node/bin/' + (process.platform === 'win32' ? 'node.exe' : 'node'), import.meta.url))

if (isRecentEnough(process.versions.node)) {
  // Keeps what was compiled, so that scripts with many short commands do not pay for it each time.
  if (module.enableCompileCache) module.enableCompileCache()
  import('./main.ts').catch((problem) => {
    console.error(problem)
    process.exit(1)
  })
} else if (existsSync(own)) {
  runWith(own)
} else {
  console.error(
    'Spanwright needs Node 22.18 or newer (this is ' + process.versions.node + '). Run "npm ci" in its folder, or install a newer Node.',
  )
  process.exit(1)
}
