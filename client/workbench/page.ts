// The page that starts the browser's workbench on the served folder.

/** The scheme of the served folder's addresses inside the workbench. */
export const folderScheme = 'blockwright-folder';

/** What the page needs to know. */
export interface PageFacts {
  /** Host and port as the browser writes them, `w.localhost:4000`. */
  readonly host: string;
  /** The 40 hex digits of the workbench package's build. */
  readonly commit: string;
  /** Name of the served folder, shown as the workspace's name. */
  readonly folderName: string;
  /** Settings laid under the user's own. */
  readonly settings: Readonly<Record<string, unknown>>;
}

const quiet: Readonly<Record<string, unknown>> = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.enableExperiments': false,
  'telemetry.telemetryLevel': 'off',
  'extensions.ignoreRecommendations': true,
  'extensions.autoCheckUpdates': false,
  'security.workspace.trust.enabled': false,
};

/** The options of the workbench's `create`, as plain data; `workspaceProvider` is made of `workspace` in the page. */
function workbenchOptions(facts: PageFacts): object {
  const build = `http://{{uuid}}.${facts.host}/static/build`;
  const served = (path: string): object => ({ scheme: 'http', authority: facts.host, path });
  return {
    productConfiguration: {
      nameShort: 'Workbench',
      nameLong: 'Workbench with Blockwright',
      applicationName: 'blockwright-workbench',
      dataFolderName: '.blockwright-workbench',
      quality: 'stable',
      commit: facts.commit,
      enableTelemetry: false,
      webEndpointUrlTemplate: build,
      webviewContentExternalBaseUrlTemplate: `${build}/out/vs/workbench/contrib/webview/browser/pre/`,
    },
    additionalBuiltinExtensions: [served('/files'), served('/extension'), served('/formulas')],
    configurationDefaults: { ...quiet, ...facts.settings },
    workspace: { folderUri: { scheme: folderScheme, authority: '', path: `/${facts.folderName}` } },
  };
}

/** The page itself. Nothing in it is asked for from outside the machine. */
export function workbenchPage(facts: PageFacts): string {
  const options = JSON.stringify(workbenchOptions(facts)).replaceAll('<', '\\u003c');
  const out = '/static/build/out/vs';
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Blockwright</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<link rel="stylesheet" href="${out}/workbench/workbench.web.main.css">
</head>
<body aria-label="">
<script src="${out}/loader.js"></script>
<script src="${out}/webPackagePaths.js"></script>
<script>
const build = location.origin + '/static/build';
for (const name of Object.keys(self.webPackagePaths)) {
  self.webPackagePaths[name] = build + '/node_modules/' + name + '/' + self.webPackagePaths[name];
}
require.config({ baseUrl: build + '/out', recordStats: false, paths: self.webPackagePaths });
</script>
<script src="${out}/workbench/workbench.web.main.nls.js"></script>
<script src="${out}/workbench/workbench.web.main.js"></script>
<script>
const { workspace, ...options } = ${options};
require(['vs/workbench/workbench.web.main'], (workbench) => {
  const folderUri = workbench.URI.revive(workspace.folderUri);
  workbench.create(document.body, {
    ...options,
    workspaceProvider: { workspace: { folderUri }, trusted: true, open: async () => false },
  });
});
</script>
</body>
</html>
`;
}
