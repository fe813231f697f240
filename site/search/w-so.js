bayleaf.words("so",{"so":"0:j;3:8","soapy":"3:e","socket":"0:0;1:0;2:0,4,7,g,k,t,u;3:0,k","soft":"2:3;3:7","solar":"0:4,l,r","source":"0:t"});
