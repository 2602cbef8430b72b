// Whether pictures are drawn without a graphics card.

/** What drivers that draw by software call themselves: names of open drivers, from memory, and of one asked here. */
const SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;

/** True where the browser draws WebGL by software: it refuses a context that must be fast, or its driver's name says so. */
export function drawsBySoftware(): boolean {
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('webgl2', { failIfMajorPerformanceCaveat: true }) as WebGL2RenderingContext | null;
  if (!context) {
    return true;
  }
  const named = context.getExtension('WEBGL_debug_renderer_info');
  const name: unknown = context.getParameter(named?.UNMASKED_RENDERER_WEBGL ?? context.RENDERER);
  context.getExtension('WEBGL_lose_context')?.loseContext();
  return SOFTWARE.test(String(name));
}
