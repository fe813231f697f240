bayleaf.words("pi",{"pick":"0:9","pilot":"0:9;2:9","pin":"2:0,k,m,t,u"});
