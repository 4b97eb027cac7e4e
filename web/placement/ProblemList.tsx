/** What is wrong with typed distances, said aloud; nothing where nothing is. */
export function ProblemList({ problems }: { readonly problems: readonly string[] }) {
  if (problems.length === 0) return null;
  return (
    <div role="alert">
      <ul class="placement-problem">
        {problems.map((problem) => (
          <li key={problem}>{problem}</li>
        ))}
      </ul>
    </div>
  );
}
