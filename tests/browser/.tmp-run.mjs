import { Checks, fileBase, launch, serve } from './harness.mjs';
import { search } from './search.mjs';
const site='/tmp/h-search-site'; const checks=new Checks(); const browser=await launch(); const server=await serve(site);
await search({checks,browser,site,bases:{file:fileBase(site),http:server.base}});
await browser.close(); server.close(); console.log(checks.passed, checks.failed);
