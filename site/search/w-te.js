bayleaf.words("te",{"tell":"2:1","template":"0:8;2:9","ten":"2:6,l,o","terminal":"0:0,f,g,h,i,j,k,s","terminals":"0:0,h;2:0,k","test":"0:t;1:1,k,l;2:1,t,u;3:0,d,e,o","tester":"2:0,t,u"});
