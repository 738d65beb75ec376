'use strict';
// The pocket page. The engine inside it decides everything, and this script lays out what it says.
// What a person has entered is one value, `now.case`, in the form of a case file: each answer is
// put to its end, and taking back takes it off again. Every text is set as text, never as markup.
(() => {
  const data = JSON.parse(document.getElementById('data').textContent);
  const main = document.getElementById('main');
  const said = document.getElementById('said');

  // ---- The engine -------------------------------------------------------------------------------

  const kBadDescriptor = 8; // there is nothing to write to, as the system interface says it
  const no = () => kBadDescriptor;
  const system = { fd_close: no, fd_seek: no, fd_write: no };
  let compiled;
  let engine;
  let start; // what the engine says before a case

  function ask(name, question) {
    const bytes = new TextEncoder().encode(JSON.stringify(question));
    const at = engine.whichlink_room(bytes.length);
    new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
    const length = engine[name](bytes.length);
    const answer = new Uint8Array(engine.memory.buffer, engine.whichlink_answer(), length);
    return JSON.parse(new TextDecoder().decode(answer));
  }

  async function begin() {
    if (!compiled) {
      const text = atob(document.getElementById('engine').textContent);
      compiled = await WebAssembly.compile(Uint8Array.from(text, (byte) => byte.charCodeAt(0)));
    }
    const instance = await WebAssembly.instantiate(compiled, { wasi_snapshot_preview1: system });
    engine = instance.exports;
    engine._initialize();
    start = ask('whichlink_begin', data);
    if (start.kind === 'problem') throw new Error(start.line);
  }

  // ---- What was entered, kept while the phone is locked -----------------------------------------

  const kKept = `whichlink pocket: ${data.installation.installation}`;
  const kNothing = { case: undefined, route: undefined, chosen: undefined, aside: false };
  let now = {}; // the case, or only its route; the move chosen instead of the advised; put aside

  function keep() {
    try {
      localStorage.setItem(kKept, JSON.stringify(now));
    } catch {
      // No storage here: the case lives as long as the page does.
    }
  }
  function kept() {
    try {
      const value = JSON.parse(localStorage.getItem(kKept));
      const { case: one, route, chosen, aside } = Object(value);
      return one && !Array.isArray(one.done) ? {} : { case: one, route, chosen, aside };
    } catch {
      return {};
    }
  }

  // ---- Pieces -----------------------------------------------------------------------------------

  // Children are texts or elements; what is missing is left out.
  function piece(tag, look, ...children) {
    const element = document.createElement(tag);
    if (look) element.className = look;
    element.append(...children.flat().filter((child) => child !== null && child !== undefined));
    return element;
  }
  const paragraph = (words, look) => (words ? piece('p', look, words) : null);
  const list = (lines) =>
    piece(
      'ul',
      '',
      lines.map((line) => piece('li', '', line)),
    );

  function key(words, act, look, more) {
    const button = piece('button', look, words, more ? piece('small', '', more) : null);
    button.type = 'button';
    button.addEventListener('click', () => busily(act));
    return button;
  }
  const keys = (look, ...buttons) => piece('div', `keys ${look}`, ...buttons);

  function asked(question, ...children) {
    return piece('fieldset', '', piece('legend', '', question), ...children);
  }
  function mind(title, cautions, level) {
    if (cautions.length === 0) return null;
    return piece('section', 'mind', piece(level, '', title), list(cautions));
  }
  function folded(title, ...children) {
    return piece('details', '', piece('summary', '', title), ...children);
  }
  function chances(rows) {
    const items = rows.map(({ percent, words, chance, look }) => {
      const bar = piece('i', '');
      bar.style.width = `${100 * chance}%`;
      const frame = piece('span', 'bar', bar);
      frame.setAttribute('aria-hidden', 'true');
      return piece('li', look, piece('b', '', percent), piece('span', '', words), frame);
    });
    return piece('ul', 'chances', items);
  }

  // A number that is typed, with its unit: given to `act` if it is from `low` to `high`.
  function number_form(label, unit, low, high, action, act) {
    const input = document.createElement('input');
    Object.assign(input, { type: 'text', inputMode: 'decimal', id: 'number', autocomplete: 'off' });
    const words = piece('label', '', label);
    words.htmlFor = input.id;
    const button = piece('button', '', action);
    button.type = 'submit';
    const form = piece('form', '', words, input, piece('span', '', unit), button);
    form.noValidate = true;
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      const given = Number(input.value.trim().replace(',', '.'));
      if (input.value.trim() === '' || !(given > low && given <= high)) {
        complain(`A number above ${low}, at most ${high}, is wanted here.`, form);
        input.focus();
      } else {
        busily(() => act(given));
      }
    });
    return form;
  }

  // ---- Acts -------------------------------------------------------------------------------------

  let working = false;
  // The engine may think for a moment: the page says so first, and takes no second tap.
  function busily(act) {
    if (working) return;
    working = true;
    main.classList.add('busy');
    const work = async () => {
      try {
        await act();
      } catch (error) {
        await recover(error);
      }
      working = false;
      main.classList.remove('busy');
    };
    requestAnimationFrame(() => setTimeout(work)); // once that is on the screen
  }

  // The engine ended within an answer: a fresh one, and that answer off again.
  async function recover(error) {
    try {
      await begin();
      if (now.case) now.case.done.pop();
      show();
      complain(`The engine stopped (${error.message}). The last answer was taken back.`);
    } catch (again) {
      give_up(again);
    }
  }

  // Above what it is about: the answers, if nothing else is said.
  function complain(line, about) {
    main.querySelector('.problem')?.remove();
    const box = piece('p', 'problem', line);
    box.setAttribute('role', 'alert');
    (about ?? main.querySelector('fieldset') ?? main.querySelector('h2')).before(box);
    box.scrollIntoView({ block: 'nearest' });
  }

  function answer(move, heard, drop) {
    const done = { move, heard };
    if (drop !== undefined) done['drop db'] = drop;
    now.case.done.push(done);
    const chosen = now.chosen;
    now.chosen = undefined;
    const problem = show();
    if (problem) {
      now.case.done.pop();
      now.chosen = chosen;
      show();
      complain(problem);
    }
  }
  function take_back() {
    if (now.case.done.length > 0) now.case.done.pop();
    Object.assign(now, { chosen: undefined, aside: false });
    show();
  }
  function go_to(changes) {
    Object.assign(now, changes);
    show();
  }

  // ---- Screens ----------------------------------------------------------------------------------

  function screen(title, ...children) {
    const heading = piece('h2', '', title);
    heading.tabIndex = -1;
    main.replaceChildren(heading, ...children.flat().filter((child) => child !== null));
    window.scrollTo(0, 0);
    heading.focus({ preventScroll: true });
    keep();
  }

  // The screen that fits what was entered. @return what is wrong with it, and then nothing changes
  function show() {
    if (!now.case) {
      if (now.route === undefined) show_routes();
      else show_complaints();
      return '';
    }
    const { chosen, aside } = now;
    const said_now = ask('whichlink_show', {
      case: now.case,
      chosen: chosen ?? '',
      aside: !!aside,
    });
    if (said_now.kind === 'problem') return said_now.line;
    if (said_now.kind === 'step') show_step(said_now);
    else show_ending(said_now);
    return '';
  }

  function show_routes() {
    const buttons = start.routes.map((route) =>
      key(route.route, () => go_to({ route: route.route }), '', route.signal),
    );
    screen(
      'Before anything else',
      piece('div', 'mind', list(start.cautions)),
      asked('Which route is in trouble?', keys('', ...buttons)),
    );
  }

  function show_complaints() {
    const route = start.routes.find((one) => one.route === now.route);
    if (!route) return go_to({ route: undefined });

    const listener = piece(
      'select',
      '',
      route.listeners.map((name) => piece('option', '', name)),
    );
    const days = document.createElement('input');
    Object.assign(days, { type: 'text', inputMode: 'decimal', value: start.days_since_pass });
    const labelled = (words, field) => piece('label', 'row', words, field);

    const open = (heard, drop) => {
      const complaint = { route: route.route, heard };
      if (drop !== undefined) complaint['drop db'] = drop;
      const since = Number(days.value.trim().replace(',', '.'));
      complaint['days since pass'] = since;
      now.case = { model: data.model, listener: listener.value, complaint, done: [] };
      const problem = show();
      if (problem) {
        now.case = undefined;
        complain(problem);
      }
    };
    // The first answer says that nothing is wrong.
    const reports = route.answers.slice(1).map((one) => key(one.words, () => open(one.heard)));
    screen(
      route.route,
      paragraph(route.signal, 'small'),
      asked(
        'What is reported of it?',
        keys(
          '',
          ...reports,
          key('Not sure what', () => open('not sure'), 'plain'),
        ),
        route.levels
          ? number_form('Weak by', 'dB', 0, 120, 'Report', (drop) => open('weak', drop))
          : null,
      ),
      folded(
        'Who listens, and since when',
        labelled('Who listens', listener),
        labelled('Days since it last passed a check', days),
      ),
      keys(
        'wide',
        key('Another route', () => go_to({ route: undefined }), 'plain'),
      ),
    );
  }

  function show_step(step) {
    const own_choice = step.move !== step.advised;
    const answers = step.answers.map((one) => key(one.words, () => answer(step.move, one.heard)));
    screen(
      `Step ${step.steps + 1}: ${step.short}`,
      paragraph(step.instruction, 'do'),
      paragraph(step.where, 'small'),
      own_choice ? own_choice_note() : null,
      mind('Mind', step.cautions, 'h3'),
      asked(
        step.asks,
        keys('', ...answers),
        step.levels
          ? number_form('Weak by', 'dB', 0, 120, 'Report', (drop) =>
              answer(step.move, 'weak', drop),
            )
          : null,
        keys(
          '',
          key('Not sure', () => answer(step.move, 'not sure'), 'plain'),
          key('Cannot do it', () => answer(step.move, 'cannot do'), 'plain'),
        ),
      ),
      keys(
        '',
        step.done.length > 0 ? key('Take back the last answer', take_back, 'plain') : null,
        key('Put aside', () => go_to({ aside: true }), 'plain'),
      ),
      so_far(step),
      folded('Why this move', paragraph(step.why)),
      folded('Other moves, best first', other_moves(step)),
      on_the_way(step),
      done_so_far(step),
      folded('Always', list(start.cautions)),
    );
  }

  function own_choice_note() {
    return piece(
      'div',
      '',
      paragraph('You chose this move yourself.'),
      keys(
        'wide',
        key('Back to the advised move', () => go_to({ chosen: undefined }), 'plain'),
      ),
    );
  }

  // Suspects, and what is to be put back: in sight at every step.
  function so_far(step) {
    const kShown = 5;
    const rows = step.suspects.filter((one) => one.shown).slice(0, kShown);
    return piece(
      'section',
      '',
      piece('h3', '', `Suspects now, ${step.spent} so far`),
      rows.length > 0 ? chances(rows) : paragraph('Nothing stands out any more.'),
      step.put_back.length > 0 ? piece('h3', '', 'Still to be put back') : null,
      step.put_back.length > 0 ? list(step.put_back) : null,
    );
  }

  function other_moves(step) {
    const buttons = step.others.map((one) =>
      key(
        one.short,
        () => go_to({ chosen: one.move }),
        '',
        `${one.now} now, ${one.to_the_end} to the end${one.idle ? '; saves nothing now' : ''}`,
      ),
    );
    return keys('wide', ...buttons);
  }

  function on_the_way(step) {
    const rows = step.parts.map((part) => ({
      ...part,
      words: `${part.part} (${part.place})${part.in_the_way ? '' : ', out of the way'}`,
      look: part.in_the_way ? '' : 'aside',
    }));
    return folded('Part by part, in the order of the signal', chances(rows));
  }

  function done_so_far(step) {
    if (step.done.length === 0) return paragraph(step.complaint, 'small');
    const lines = step.done.map((one) => piece('li', '', `${one.short}: ${one.heard}`));
    return folded('Done so far', paragraph(step.complaint), piece('ol', '', lines));
  }

  function show_ending(ending) {
    const blocks = ending.blocks.map((block) =>
      block.title
        ? piece('section', '', piece('h3', '', block.title), list(block.lines))
        : block.lines.map((line) => paragraph(line)),
    );
    const under_way = ending.stage === 'under way';
    screen(
      ending.title,
      paragraph(ending.summary),
      ending.stage === 'handed over' && data.contact
        ? paragraph(`Service: ${data.contact}`, 'do')
        : null,
      blocks.flat(),
      case_text(ending.case),
      keys(
        'wide',
        under_way ? key('Go on', () => go_to({ aside: false })) : null,
        ending.done.length > 0 ? key('Take back the last answer', take_back, 'plain') : null,
        key('New case', () => go_to(kNothing), 'plain'),
      ),
    );
  }

  function case_text(text) {
    const area = document.createElement('textarea');
    Object.assign(area, { value: text, readOnly: true, id: 'case', rows: 8 });
    const label = piece('label', '', 'The case as text, for whichlink isolate --resume FILE');
    label.htmlFor = area.id;
    const copy = async () => {
      area.select();
      try {
        await navigator.clipboard.writeText(text);
      } catch {
        document.execCommand('copy'); // pages from a file may have no clipboard
      }
      said.textContent = 'Copied.';
    };
    return folded('The case as text', label, area, keys('wide', key('Copy', copy, 'plain')));
  }

  // ---- Start ------------------------------------------------------------------------------------

  function give_up(error) {
    screen(
      'The engine did not start',
      paragraph(`This browser cannot run it: ${error.message}`),
      piece('div', 'mind', list(data.cautions)),
      paragraph(data.contact ? `Call service: ${data.contact}` : 'Call service.', 'do'),
    );
  }

  document.title += `: ${data.installation.installation}`;
  begin()
    .then(async () => {
      now = kept();
      let problem = '';
      try {
        problem = show();
      } catch (error) {
        problem = error.message;
        await begin();
      }
      // What was kept may be of an older page: then it means nothing here.
      if (problem) go_to(kNothing);
    })
    .catch(give_up);
})();
