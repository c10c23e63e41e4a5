// Windows over the page: frames to open and to hand on, how the page is set, questions.
import { app, ask, download, fileName, units } from './app.mjs';
import { button, el, fill, para } from './build.mjs';
import { linkPart } from './link.mjs';
import { languageSpoken, say } from './words.mjs';
import { pageWith } from './page_copy.mjs';

function dialog(id, heading, ...content) {
  const box = el('dialog', { id, 'aria-labelledby': id + '-h' },
    el('div', { class: 'dialog-head' }, el('h2', { id: id + '-h' }, heading), button('✕', () => box.close(), { 'aria-label': say('Close'), class: 'quiet' })), ...content);
  box.addEventListener('close', () => box.remove());
  box.addEventListener('click', (event) => { if (event.target === box) { box.close(); } });
  document.getElementById('root').append(box);
  box.showModal();
  return box;
}

/// A question with one way to say yes.
export function question(text, yes, act) {
  const box = dialog('question', text, el('div', { class: 'row' }, button(yes, () => { box.close(); act(); }, { class: 'main' }), button(say('Leave it'), () => box.close())));
}

export async function openFile(file) {
  if (file.size > 16 * 1024 * 1024) { app.notify(say('{} is larger than 16 MiB: no frame file is.', file.name)); return; }
  app.open({ name: file.name.slice(0, 80), text: await file.text() });
}

export function frames() {
  const picker = el('input', { type: 'file', accept: '.yaml,.yml,text/yaml,text/plain', class: 'sr', tabindex: '-1', 'aria-hidden': 'true', change: () => { if (picker.files[0]) { box.close(); openFile(picker.files[0]); } } });
  const paste = el('textarea', { rows: '4', placeholder: 'dryfit: 1', 'aria-label': say('Text of a frame file') });
  const start = async (unit) => {
    box.close();
    const given = await app.quick.ask({ args: ['new', '--units', unit, '--name', say('New frame'), '--language', languageSpoken()], stdin: '', files: {} });
    app.open({ name: 'frame.yaml', text: given.out });
  };
  const kept = el('ul', { class: 'choices' });
  const paint = () => fill(kept, app.store.frames.map((frame) => el('li', {},
    button([el('strong', {}, app.titleOf(frame)), ' ', el('span', { class: 'soft' }, frame.made.length > 0 ? say('with ticks') : '')], () => { box.close(); app.open(frame, frame.id); }, { class: 'line' }),
    frame.id === app.frame.id ? el('span', { class: 'soft' }, say('open')) : button(say('Forget'), () => { app.store.forget(frame.id); paint(); }, { class: 'quiet', 'aria-label': say('Forget {}', app.titleOf(frame)) }))));
  const box = dialog('frames', say('Frames'),
    el('div', { class: 'row' }, button(say('Open a file'), () => picker.click(), { class: 'main' }), picker, button(say('New, in inches'), () => start('in')), button(say('New, in mm'), () => start('mm')), button(say('Empty, by tapping'), () => { box.close(); app.open({ name: 'frame.yaml', text: '' }); app.go('picture'); }, { id: 'new-empty' })),
    el('details', {}, el('summary', {}, say('Paste a frame')), paste, button(say('Open it'), () => { if (paste.value.trim()) { box.close(); app.open({ name: 'frame.yaml', text: paste.value }); } })),
    el('h3', {}, say('On this device')), app.store.works ? null : para(say('This browser keeps nothing from one visit to the next. Save your frame as a file.'), { class: 'watch' }), kept,
    el('h3', {}, say('Examples')),
    el('ul', { class: 'choices' }, app.scenarios.map((one) => el('li', {}, button(app.titleOf(one), () => { box.close(); app.open(one); }, { class: 'line' })))));
  paint();
}

export function handOn() {
  const said = el('p', { role: 'status', class: 'soft' });
  const field = el('textarea', { rows: '3', readonly: true, 'aria-label': say('Link') });
  dialog('hand-on', say('Save and hand on'),
    el('div', { class: 'stack' },
      button(say('Save as {}', fileName()), () => { download(fileName(), app.frame.text, 'text/yaml'); fill(said, say('Saved with the downloads.')); }, { class: 'main' }),
      button(say('Save this page with the frame in it'), () => { download(fileName().replace(/\.yaml$/, '.html'), pageWith({ name: fileName(), text: app.frame.text }), 'text/html'); fill(said, say('Saved with the downloads.')); }),
      button(say('Make a link'), async () => {
        field.value = location.href.replace(/#.*$/, '') + await linkPart(fileName(), app.frame.text);
        field.hidden = false;
        field.select();
        try { await navigator.clipboard.writeText(field.value); fill(said, say('Copied. Whoever has this page at the same address opens the frame by it.')); } catch (error) { fill(said, say('Copy the link from the field.')); }
      }),
      field, said));
  field.hidden = true;
}

const CHOICES = {
  language: () => [['', say('as the browser')], ['en', 'English'], ['de', 'Deutsch']],
  units: () => [['', say('as the frame')], ['in', say('inches')], ['mm', say('millimetres')]],
  paper: () => [['', say('by the units')], ['a4', 'A4'], ['letter', 'Letter']],
  scheme: () => [['', say('as the device')], ['light', say('light')], ['dark', say('dark')]],
};
export function settings() {
  const one = (id, label) => el('p', { class: 'chosen-row' }, el('label', { for: 'set-' + id }, label), el('select', {
    id: 'set-' + id, change: (event) => { app.store.settings[id] = event.target.value; app.store.save(); app.settled(id); },
  }, CHOICES[id]().map(([value, text]) => el('option', { value, selected: (app.store.settings[id] || '') === value }, text))));
  dialog('settings', say('Settings'), one('language', say('Language')), one('units', say('Lengths in')), one('paper', say('Paper')), one('scheme', say('Colours')),
    el('h3', {}, say('About')),
    para(say('dryfit {}. Everything is worked out on this device; nothing is sent anywhere.', app.quick.version || '')),
    para(say('It is no structural check. For loads, guardrails, stairs or anything overhead, follow your local code and ask a licensed engineer.')),
    el('details', {}, el('summary', {}, say('Licences of what is in this page')), el('pre', { class: 'licences', tabindex: '0' }, document.getElementById('licences').textContent)));
}
