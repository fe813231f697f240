bayleaf.words("sm",{"small":"0:9;3:m","smaller":"1:9","smallest":"1:9","smooth":"2:i;3:0,c,e"});
