/**
 * Ask for what takes a while; meanwhile the page says what is being done.
 * @param doing what is done, for the eye and the ear
 * @param step what stands before each word of progress
 * @param message what is asked for
 */
export async function busily(doing, step, message, tools) {
  tools.local.busy = doing;
  tools.say(doing);
  tools.during((words) => {
    tools.local.busy = `${step}: ${words}`;
    tools.redraw();
  });
  tools.redraw();
  const answer = await tools.send(message);
  tools.during(null);
  tools.local.busy = "";
  tools.local.said = answer.ok ? "" : answer.say;
  tools.redraw();
  return answer;
}
