/** The ground plan of Ternhaven as a drawing: 36 by 24 m, a unit a centimetre. */
export function ternhavenPlan(): string {
  const rooms = [
    ["Crate store", 108, 120, 2088, 1056],
    ["Encoding room", 2340, 120, 1152, 480],
    ["Staff exit", 2340, 696, 1152, 480],
    ["Marshalling", 108, 1272, 3384, 600],
    ["Yard", 108, 2016, 3384, 312],
  ] as const;
  const racks = Array.from({ length: 6 }, (_, i) => {
    const y = 300 + Math.floor(i / 2) * 300;
    return `<rect x="${i % 2 === 0 ? 240 : 1290}" y="${y}" width="800" height="120" class="rack"/>`;
  });
  const doors = [792, 1728].map((x) => `<path d="M${x - 150} 1944h300" class="door"/>`);
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 3600 2400" font-family="sans-serif" font-size="84">
<style>.room{fill:#f5f7f8;stroke:#56616f;stroke-width:12}.rack{fill:#dfe4e8}.door{stroke:#1f5a7a;stroke-width:36}text{fill:#56616f}</style>
<rect width="3600" height="2400" fill="#ffffff"/>
${rooms.map(([, x, y, width, height]) => `<rect x="${x}" y="${y}" width="${width}" height="${height}" class="room"/>`).join("\n")}
${racks.join("\n")}
${doors.join("\n")}
${rooms.map(([name, x, y]) => `<text x="${x + 48}" y="${y + 108}">${name}</text>`).join("\n")}
</svg>
`;
}
