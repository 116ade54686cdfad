// Draws a chart as text that a page can hold without script.

colors = {
  series: [1, 2, 3, 4, 5, 6].map(function (i) { return 'var(--c' + i + ')'; }),
  ink: 'var(--ink)', faint: 'var(--faint)', line: 'var(--line)', paper: 'var(--paper)'
};

// From how many points on a cloud is drawn as one shape.
var cloud = 60;

// What may stand on an element. All other attributes are for a browser that
// runs script, or would need a looser policy.
var allowed = new Set(['d', 'x', 'y', 'x1', 'y1', 'x2', 'y2', 'cx', 'cy', 'r', 'width', 'height', 'points', 'transform', 'clip-path',
  'fill', 'fill-opacity', 'stroke', 'stroke-opacity', 'stroke-width', 'stroke-dasharray', 'opacity', 'text-anchor', 'dominant-baseline',
  'font-size', 'id', 'viewBox']);
var tags = new Set(['svg', 'g', 'defs', 'clipPath', 'path', 'rect', 'circle', 'line', 'polyline', 'polygon', 'ellipse', 'text', 'tspan']);

function escaped(s) {
  return String(s).replace(/[&<>"']/g, function (c) { return '&#' + c.charCodeAt(0) + ';'; });
}

function shorter(s) {
  return String(s).replace(/-?\d+\.\d{2,}/g, function (n) { return String(Math.round(n * 10) / 10); });
}

// names gives each name of a chart's own, in the order in which they are met.
function names(prefix) {
  var given = new Map();
  return function (name) {
    if (!given.has(name)) { given.set(name, prefix + '-' + given.size); }
    return given.get(name);
  };
}

function attributes(node, name) {
  var out = '', attrs = node.attrs;
  for (var k in attrs) {
    var v = attrs[k];
    if (k === 'style') {
      var size = /font-size:(\d+)px/.exec(v);
      if (size && size[1] !== '12') { out += ' font-size="' + size[1] + '"'; }
    }
    if (!allowed.has(k) || v === '' || v === null || v === undefined || v === false) { continue; }
    if (v === '#000') { v = 'none'; } // the library's own, where it shows nothing: a clip, the inside of a line
    if (k === 'id') { v = name(v); }
    if (k === 'clip-path') { v = 'url(#' + name(v.slice(5, -1)) + ')'; }
    if (k === 'd' || k === 'transform' || k === 'points') { v = shorter(v); }
    out += ' ' + k + '="' + escaped(v) + '"';
  }
  return out;
}

// unseen are boxes that only a pointer would notice.
function unseen(attrs) {
  var filled = attrs.fill !== 'none' && attrs['fill-opacity'] !== 0, lined = attrs.stroke && attrs['stroke-width'] !== 0;
  return 'fill' in attrs && !filled && !lined;
}

function written(node, name) {
  if (!node.tag || node.tag === 'text' && !node.text && !(node.children || []).length) { return escaped(node.text || ''); }
  if (!tags.has(node.tag)) { return ''; }
  var inside = escaped(node.text || '');
  (node.children || []).forEach(function (c) { if (c) { inside += written(c, name); } });
  if (!inside && (node.tag === 'g' || node.tag === 'defs' || node.tag === 'text')) { return ''; }
  if (unseen(node.attrs || {})) { return ''; }
  return '<' + node.tag + attributes(node, name) + '>' + inside + '</' + node.tag + '>';
}

// plainly leaves out of a chart's data what only a pointer can find, and draws
// a cloud of points as one shape.
function plainly(s) {
  s.silent = true;
  s.emphasis = {disabled: true};
  if (s.label) { return; } // its names are what it writes
  s.data = s.data.map(function (d) { return d.value; });
  if (s.type === 'scatter' && s.data.length > cloud) { s.large = true; s.largeThreshold = 1; }
}

// still draws a chart's data, under a name for what in it is named.
function still(text, name, width, usual) {
  var option = JSON.parse(text), height = usual + legendHeight(option, width);
  prepare(option, width);
  option.series.forEach(plainly);
  delete option.tooltip;
  if (!option.legend.show) { delete option.legend; }
  var chart = echarts.init(null, theme(), {renderer: 'svg', ssr: true, width: width, height: height});
  chart.setOption(option);
  var root = chart.getZr().painter.renderToVNode({animation: false, willUpdate: false, compress: true, useViewBox: true});
  chart.dispose();
  root.attrs = {viewBox: '0 0 ' + width + ' ' + height, width: width, height: height};
  return written(root, names(name));
}
