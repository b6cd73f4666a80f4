import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { BatchList } from '../parts/batchlist';
import { Go } from '../parts/link';

export function Make() {
  const answer = useView('batches', {});
  if (!answer) return <NotThere name="make" title="Make" />;
  if (!answer.ok) return <NotThere name="make" title="Make" error={answer.error} />;
  const all = answer.value;
  const making = all.filter((b) => b.state === 'making');
  const rest = all.filter((b) => b.state !== 'making');
  return (
    <Screen
      name="make"
      title="Make"
      foot={
        <Go to="/make/new" class="btn">
          Start a batch
        </Go>
      }
    >
      <div class="columns">
        <BatchList title="at the bench" rows={making} word="go on" bench empty="Nothing is being made." />
        <BatchList title="made" rows={rest} word="record" />
      </div>
    </Screen>
  );
}
