/** What a set-up file may hold, with invented distances. */
export const EXAMPLE_SETUP = `{
  "microphoneDistance": "1 m ± 1 cm",
  "baffleWidth": "17 cm",
  "temperature": "20 degC",
  "surfaces": [
    {
      "name": "wall behind",
      "speakerDistance": "29 cm ± 2 cm",
      "microphoneDistance": "129 cm ± 2 cm"
    },
    {
      "name": "desk",
      "speakerDistance": "18 cm",
      "microphoneDistance": "30 cm"
    }
  ],
  "room": { "length": "4.2 m", "width": "3.1 m", "height": "2.4 m" }
}
`;
