import { Checks, fileBase, launch, serve } from './harness.mjs';
const [,, part, site='/tmp/s']=process.argv; const checks=new Checks(); const browser=await launch(); const server=await serve(site);
const m=await import(`./${part}.mjs`); const name={static:'still'}[part]??part;
await m[name]({checks,browser,site,project:'/tmp/wt/index',bases:{file:fileBase(site),http:server.base}});
console.log(checks.passed,'passed',checks.failed,'failed'); await browser.close(); server.close();
