// The worker of causes.js: a .NET runtime that answers questions with the page's own code.

let work;

self.onmessage = async ({ data }) => {
  try {
    if (data.runtime) {
      const { dotnet } = await import(data.runtime);
      const runtime = await dotnet.create();
      work = (await runtime.getAssemblyExports('FleetLight.Field.dll')).FleetLight.Field.Measuring.CauseWork;
      self.postMessage({ ready: true });
    } else {
      self.postMessage({ number: data.number, answer: work.Answer(data.question) });
    }
  } catch (error) {
    self.postMessage({ number: data.number, failed: String(error) });
  }
};
