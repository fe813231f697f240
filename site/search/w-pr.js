bayleaf.words("pr",{"press":"0:m;1:5,i;2:3,j;3:6,9","proof":"0:0,g,i","protect":"0:a;1:3;3:3","protection":"0:0,3,9,p;1:0,2,j;2:0,2,9,h,r;3:0,2,5,9,c,e,i,j"});
