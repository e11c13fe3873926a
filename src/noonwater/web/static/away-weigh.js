// Bayes over the causes, as the desk does it: what each reading makes of each cause's weight.

export function weighed(table, rules, sky, told) {
  const at = table.skies[sky];
  const logs = at.weights.map((weight) => Math.log(weight));
  table.readings.forEach((reading, place) => {
    if (!(reading.key in told)) return;
    logs.forEach((_, n) => {
      logs[n] += Math.log(likelihood(reading, showsOf(table, sky, n)[place], told[reading.key], rules));
    });
  });
  const most = Math.max(...logs);
  const chance = new Map();
  logs.forEach((log, n) => {
    const key = table.causes[n];
    chance.set(key, (chance.get(key) || 0) + Math.exp(log - most));
  });
  const total = [...chance.values()].reduce((sum, each) => sum + each, 0);
  return [...chance].map(([key, part]) => [key, part / total]).sort((one, other) => other[1] - one[1]);
}

export function showsOf(table, sky, n) {
  return [...table.steady[n], ...table.skies[sky].shows[n]].map((at) => at === null ? null : table.shown[at]);
}

function likelihood(reading, shows, told, { slip }) {
  if (reading.choices) {
    const even = 1 / reading.choices.length;
    return shows ? (1 - slip) * shows[reading.choices.indexOf(told)] + slip * even : even;
  }
  const even = 1 / (reading.high - reading.low);
  if (!shows) return even;
  const [mean, spread] = shows;
  const density = Math.exp(-0.5 * ((told - mean) / spread) ** 2) / (spread * Math.sqrt(2 * Math.PI));
  return (1 - slip) * density + slip * even;
}

export function inWords(chance, { likely, possible }) {
  const tenths = Math.round(10 * chance);
  const word = chance >= likely ? "likely" : chance >= possible ? "possible" : "unlikely";
  return [word, tenths >= 10 ? "nearly sure" : tenths ? `about ${tenths} in 10` : "less than 1 in 20"];
}
