/**
 * The script of the HTML report. It adds to a page that is whole without it: for each figure with an axis to read off,
 * boxes to show and hide its groups, a slider that reads the curves at any of their steps (a native control, so that it
 * works by key, by touch and with a screen reader), and the same reading under the pointer. Every value it shows is the
 * text of a cell of the table below the figure. It stands in the page itself, and the content security policy allows it
 * by its hash alone; it makes no request, keeps nothing and evaluates no text.
 */
export const PAGE_SCRIPT = `
'use strict';
for (const figure of document.querySelectorAll('figure[data-domain]')) {
  const details = figure.querySelector('details.values');
  const rows = [...details.querySelectorAll('tbody tr[data-at]')];
  if (rows.length === 0) continue;
  const [from, to] = figure.dataset.domain.split(' ').map(Number);
  const at = rows.map(row => Number(row.dataset.at));
  const heads = [...details.querySelectorAll('thead th')];
  const axis = heads[0].textContent;
  const groups = heads.slice(1).map((head, i) => {
    const unit = head.querySelector('.unit');
    return {
      column: i + 1,
      key: head.dataset.group,
      unit: unit === null ? '' : ' ' + unit.textContent,
      label: head.firstChild.textContent.trim(),
      shown: true,
    };
  });

  const make = (parent, name, attributes, text) => {
    const element = document.createElement(name);
    for (const key of Object.keys(attributes)) element.setAttribute(key, attributes[key]);
    if (text !== undefined) element.textContent = text;
    parent.append(element);
    return element;
  };

  const readers = [...figure.querySelectorAll('.drawn')].map(drawn => {
    const svg = drawn.querySelector('svg');
    const [left, top, width, height] = drawn.dataset.plot.split(' ').map(Number);
    const view = svg.viewBox.baseVal;
    const line = document.createElementNS('http://www.w3.org/2000/svg', 'line');
    line.setAttribute('class', 'reading-line');
    line.setAttribute('y1', top);
    line.setAttribute('y2', top + height);
    line.setAttribute('display', 'none');
    svg.append(line);
    const box = make(drawn, 'div', { class: 'reading-box', 'aria-hidden': 'true', hidden: '' });
    return { drawn, svg, view, line, box, left, top, width, height };
  });

  const panel = document.createElement('div');
  panel.className = 'reading';
  panel.setAttribute('role', 'group');
  panel.setAttribute('aria-label', 'Read figure ' + figure.dataset.number);
  figure.insertBefore(panel, figure.querySelector('figcaption'));
  const label = make(panel, 'label', { class: 'reading-slider' });
  make(label, 'span', {}, axis);
  const slider = make(label, 'input', { type: 'range', min: '0', max: String(rows.length - 1), value: '0', step: '1' });

  const lines = place => [
    axis + ': ' + rows[place].cells[0].textContent,
    ...groups
      .filter(group => group.shown)
      .map(group => {
        const text = rows[place].cells[group.column].textContent;
        return group.label + ' ' + (/\\d/.test(text) ? text + group.unit : 'not followed');
      }),
  ];

  const say = () => {
    slider.setAttribute('aria-valuetext', lines(Number(slider.value)).slice(1).join('; ') + '; at ' + rows[Number(slider.value)].cells[0].textContent);
  };

  const show = () => {
    const place = Number(slider.value);
    const texts = lines(place);
    say();
    for (const { view, line, box, left, top, width, height } of readers) {
      const x = left + ((at[place] - from) / (to - from)) * width;
      line.setAttribute('x1', x);
      line.setAttribute('x2', x);
      line.removeAttribute('display');
      const across = (x / view.width) * 100;
      const right = across < 50;
      box.style.left = right ? across + '%' : 'auto';
      box.style.right = right ? 'auto' : 100 - across + '%';
      box.style.maxWidth = (right ? 100 - across : across) + '%';
      const below = figure.dataset.clear === 'bottom';
      box.style.top = below ? 'auto' : (top / view.height) * 100 + '%';
      box.style.bottom = below ? 100 - ((top + height - 6) / view.height) * 100 + '%' : 'auto';
      box.replaceChildren();
      for (const text of texts) make(box, 'div', {}, text);
      box.hidden = false;
    }
  };

  const hide = () => {
    for (const { line, box } of readers) {
      line.setAttribute('display', 'none');
      box.hidden = true;
    }
  };

  if (groups.length > 1) {
    const choice = make(panel, 'fieldset', { class: 'reading-groups' });
    make(choice, 'legend', {}, 'Show');
    for (const group of groups) {
      const line = make(choice, 'label', {});
      const box = make(line, 'input', { type: 'checkbox' });
      box.checked = true;
      line.append(' ' + group.label);
      box.addEventListener('change', () => {
        group.shown = box.checked;
        for (const mark of figure.querySelectorAll('svg [data-group="' + group.key + '"]')) {
          if (box.checked) mark.removeAttribute('display');
          else mark.setAttribute('display', 'none');
        }
        say();
        hide();
      });
    }
  }

  slider.addEventListener('input', show);
  slider.addEventListener('focus', show);
  slider.addEventListener('blur', hide);
  figure.addEventListener('keydown', event => {
    if (event.key === 'Escape') hide();
  });
  for (const { drawn, svg, view, left, top, width, height } of readers) {
    drawn.addEventListener('pointermove', event => {
      const frame = svg.getBoundingClientRect();
      const x = ((event.clientX - frame.left) / frame.width) * view.width;
      const y = ((event.clientY - frame.top) / frame.height) * view.height;
      if (x < left || x > left + width || y < top || y > top + height) return hide();
      const time = from + ((x - left) / width) * (to - from);
      let low = 0;
      let high = at.length - 1;
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if (at[middle] <= time) low = middle;
        else high = middle - 1;
      }
      slider.value = String(low);
      show();
    });
    drawn.addEventListener('pointerleave', () => {
      if (document.activeElement !== slider) hide();
    });
  }
  say();
}
`;
