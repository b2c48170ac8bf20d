"""How the page looks: a room at night."""

from __future__ import annotations

from .frames import COLOURS, PACE

BASIC = """
:root {
  --night: #070b19; --dusk: #121a36; --panel: #141c3a; --line: #2b376a;
  --ink: #eaeefb; --soft: #b3bddc; --warm: #ffd08a; --alarm: #ffb9ab;
  color-scheme: dark;
}
* { box-sizing: border-box; }
html { background: var(--night); overflow-x: clip; scroll-padding-top: 5rem; }
body {
  margin: 0; overflow-x: clip; color: var(--ink);
  background: linear-gradient(var(--dusk), var(--night) 60rem);
  font: 1.0625rem/1.6 system-ui, -apple-system, "Segoe UI", Roboto, sans-serif;
}
main, footer { max-width: 44rem; margin: 0 auto; padding: 0 1rem; }
header { text-align: center; padding: 2rem 0 0.5rem; }
h1 { font-size: clamp(1.7rem, 6vw, 2.5rem); font-weight: 300; letter-spacing: 0.02em;
     line-height: 1.2; margin: 0 0 0.5rem; overflow-wrap: anywhere; }
h2 { font-size: 1.5rem; font-weight: 400; line-height: 1.25; margin: 0 0 0.75rem; }
h3 { font-size: 1.0625rem; font-weight: 600; line-height: 1.35; margin: 1.25rem 0 0.4rem; }
p { margin: 0 0 0.6rem; }
header p, .small, footer { color: var(--soft); font-size: 0.9375rem; }
a { color: inherit; }
ul, ol { padding-left: 1.2rem; margin: 0 0 0.75rem; }
li { margin-bottom: 0.35rem; overflow-wrap: anywhere; }
section + section { margin-top: 3.5rem; }
footer { padding-top: 3rem; padding-bottom: 3rem; text-align: center; overflow-wrap: anywhere; }
button, input { font: inherit; color: inherit; }
:focus-visible { outline: 3px solid var(--warm); outline-offset: 3px; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.scripted { display: none; }
.with-script .scripted { display: revert; }
"""

CARD = """
#glow { text-align: center; }
.card {
  position: relative; aspect-ratio: var(--ratio); margin: 0 auto 1rem;
  width: min(100%, calc(72vh * var(--ratio)));
}
.card svg { position: relative; display: block; width: 100%; height: 100%; overflow: visible;
            filter: drop-shadow(0 1.2rem 1.4rem rgb(0 0 0 / 0.55)); }
.hollow { fill: #070a14; }
.paper { fill: url(#moon); stroke: #5d6ba0; stroke-width: 0.2; }
.glow { opacity: 0; isolation: isolate; transition: opacity 0.7s ease-in; }
.lit .glow, .card:has(#press:active) .glow { opacity: 1; transition: opacity 0.35s ease-out; }
.room {
  position: absolute; inset: -22% -30%; opacity: 0; pointer-events: none;
  background: radial-gradient(closest-side, var(--tint), transparent);
  transition: opacity 0.9s ease-in;
}
.lit .room { opacity: 0.4; transition: opacity 0.5s ease-out; }
.stamp { fill: #ff9d8c; fill-opacity: 0.92; font-weight: 700; text-anchor: middle;
         dominant-baseline: middle; text-transform: uppercase; letter-spacing: 0.06em;
         paint-order: stroke; stroke: #3a0d08; stroke-width: 0.6; pointer-events: none; }
#press {
  position: absolute; aspect-ratio: 1; padding: 0; transform: translate(-50%, -50%);
  border: 2px solid rgb(255 208 138 / 0.75); border-radius: 50%;
  background: rgb(16 22 46 / 0.55); color: var(--warm); cursor: pointer;
  font-size: 0.8125rem; line-height: 1;
  touch-action: none; user-select: none; -webkit-user-select: none;
  -webkit-touch-callout: none; -webkit-tap-highlight-color: transparent;
  transition: transform 0.15s, opacity 0.3s, border-color 0.3s;
}
#press::after {
  content: ""; position: absolute; inset: -2px; border: 2px solid var(--warm); border-radius: 50%;
  animation: call 3.2s ease-out infinite;
}
@keyframes call { 0%, 40% { transform: scale(1); opacity: 0.7; }
                  100% { transform: scale(1.45); opacity: 0; } }
#press:active { transform: translate(-50%, -50%) scale(0.93); }
.lit #press { opacity: 0.55; }
.lit #press::after { animation: none; opacity: 0; }
.with-script .keep { display: inline-flex; }
.keep { align-items: center; gap: 0.6rem; min-height: 2.75rem;
        padding: 0 0.5rem; cursor: pointer; }
.keep input { appearance: none; position: relative; width: 2.9rem; height: 1.6rem; margin: 0;
              border: 2px solid var(--soft); border-radius: 1rem; cursor: pointer; }
.keep input::before { content: ""; position: absolute; inset: 0.15rem auto 0.15rem 0.15rem;
                      aspect-ratio: 1; border-radius: 50%; background: var(--soft);
                      transition: transform 0.2s; }
.keep input:checked { background: #6b4a14; border-color: var(--warm); }
.keep input:checked::before { transform: translateX(1.3rem); background: var(--warm); }
#state { min-height: 1.6em; }
"""

LISTS = """
.table { background: #dfe4f1; border-radius: 0.75rem; padding: 0.25rem; }
#circuit { display: block; width: 100%; max-height: 70vh; font-family: system-ui, sans-serif; }
#circuit .thing, #circuit .own, #circuit .sheet { transition: opacity 0.3s; }
#circuit .own { opacity: 0; }
#circuit .own.on { opacity: 1; }
#circuit .done { opacity: 0.38; }
#circuit .later, #circuit[data-shows="apart"] .thing { opacity: 0; }
#circuit[data-shows="apart"] .sheet { opacity: 0.15; }
#circuit:is([data-shows="front"], [data-shows="done"], [data-shows="pieces"]) .says { opacity: 0; }
#circuit [data-kind="vellum"] { fill-opacity: 0.7; }
#circuit .new .body { filter: drop-shadow(0 0 1.1px #d4380d) drop-shadow(0 0 0.5px #d4380d); }
.fault circle { fill: #b3200b; stroke: #fff; stroke-width: 0.5; }
.fault text { fill: #fff; font-weight: 700; text-anchor: middle; }
#circuit[data-shows="apart"] .fault { opacity: 0; }
#circuit .stamp { fill: #b3200b; fill-opacity: 0.5; stroke: none; }
.controls { margin: 0.75rem 0; }
.with-script .controls { display: grid; grid-template-columns: auto 1fr auto; gap: 0.75rem;
                         align-items: center; }
.controls button { min-width: 4.5rem; min-height: 2.75rem; padding: 0 0.9rem; cursor: pointer;
                   background: #22305f; border: 1px solid #5a6aa6; border-radius: 1.4rem; }
.controls button[aria-disabled="true"] { opacity: 0.45; cursor: default; }
#slider { width: 100%; min-width: 0; height: 2.75rem; margin: 0; accent-color: var(--warm); }
#steps { list-style: none; margin: 0; padding: 0; }
.with-script #steps { min-height: 12.5rem; }
#steps h3 { margin-top: 0.25rem; font-size: 1.15rem; }
.count { display: block; color: var(--warm); font-size: 0.875rem; font-weight: 400; }
.wide { overflow-x: auto; margin-bottom: 0.7rem; }
table { width: 100%; border-collapse: collapse; font-size: 0.9375rem; line-height: 1.4; }
th, td { text-align: left; vertical-align: top; padding: 0.45rem 0.6rem 0.45rem 0;
         border-bottom: 1px solid var(--line); font-weight: 400; overflow-wrap: anywhere; }
thead th { color: var(--soft); overflow-wrap: normal; }
.figure { text-align: right; padding-left: 0.6rem; font-variant-numeric: tabular-nums; }
td.figure { white-space: nowrap; }
.warning { background: #3a1620; border-left: 4px solid #ff9d8c; border-radius: 0.4rem;
           padding: 0.8rem 1rem; }
.banner { position: sticky; top: 0; z-index: 2; margin: 0 -1rem; padding: 0.75rem 1rem;
          background: #5a150c; color: #fff1ee; border-bottom: 2px solid #ff9d8c; }
.banner strong { text-transform: uppercase; letter-spacing: 0.08em; margin-right: 0.4em; }
.stop li::marker { color: var(--alarm); }
@media (max-width: 40rem) { #circuit { max-height: 48vh; } }
@media (max-width: 30rem) { th, td { padding-right: 0.4rem; } }
@media (prefers-reduced-motion: reduce) {
  *, *::before, *::after { animation: none !important; transition: none !important; }
}
@media print {
  body, html { background: #fff; color: #000; }
  .scripted, #press, .keep, #state { display: none !important; }
  #steps li { display: block !important; }
}
"""


def _colours() -> str:
    """Pictures of different colours, each fading into the next; their shares are 1 together."""
    count = 1 + len(COLOURS)
    rules = [".frame { mix-blend-mode: plus-lighter; opacity: 0; }", ".frame-0 { opacity: 1; }"]
    rules.append("@media (prefers-reduced-motion: no-preference) {")
    rules.append(
        f"@keyframes turn {{ 0%, 100% {{ opacity: 1; }} "
        f"{100 / count:.4g}%, {100 - 100 / count:.4g}% {{ opacity: 0; }} }}"
    )
    for i in range(count):
        delay = (i - count) * PACE if i else 0.0
        rules.append(
            f".changing .frame-{i} {{ animation: turn {count * PACE:g}s linear {delay:g}s "
            "infinite paused; }"
        )
    rules.append(".lit .changing .frame { animation-play-state: running; } }")
    return "\n".join(rules)


STYLE = f"{BASIC}{CARD}{LISTS}{_colours()}"
