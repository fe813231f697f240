bayleaf.words("en",{"end":"0:g;1:0,4,i;3:d,e,l,o","ends":"2:9,a;3:c,l,n,o","engine":"0:s,t;3:l,m,n,o"});
