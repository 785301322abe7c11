// The parts of the talk as a row of steps. Words are only ever set as textContent.

const rows = new WeakMap();

function element(name, className, words) {
  const made = document.createElement(name);
  if (className) made.className = className;
  if (words !== undefined) made.textContent = words;
  return made;
}

function stepOf(step, number, send) {
  const button = element("button", step.is_settled ? "step settled" : "step");
  button.type = "button";
  button.dataset.part = step.id;
  if (step.is_current) button.setAttribute("aria-current", "step");
  const words = element("span", "words");
  words.append(element("span", "name", step.label), element("span", "state", step.state));
  button.append(element("span", "number", step.is_settled ? "\u2713" : String(number)), words);
  button.firstChild.setAttribute("aria-hidden", "true");
  button.addEventListener("click", () => send("go", step.id));
  const item = element("li");
  item.append(button);
  return item;
}

function startAtTheTop(row) {
  const page = document.querySelector('[data-testid="stMain"]');
  if (page) page.scrollTo({ top: 0 });
  const current = row.list.querySelector('[aria-current="step"]');
  if (current) current.focus({ preventScroll: true });
}

export default function (component) {
  const { data, parentElement, setTriggerValue } = component;
  let row = rows.get(parentElement);
  if (!row) {
    row = { list: element("ol") };
    const nav = element("nav");
    nav.setAttribute("aria-label", "Parts of the talk");
    nav.append(row.list);
    parentElement.append(nav);
    rows.set(parentElement, row);
  }
  const held = row.list.contains(parentElement.activeElement ?? document.activeElement);
  const current = data.steps.find((step) => step.is_current)?.id;
  const steps = data.steps.map((step, index) => stepOf(step, index + 1, setTriggerValue));
  row.list.replaceChildren(...steps);
  if (row.current !== undefined && row.current !== current) startAtTheTop(row);
  else if (held) row.list.querySelector('[aria-current="step"]')?.focus({ preventScroll: true });
  row.current = current;
}
